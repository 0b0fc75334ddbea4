#define TAREWELL_KERNELS plain
#include "audit/factor_kernels.inl"
