// Compiled with -mavx2 -mfma (CMakeLists.txt). Eigen gets another name here: of two templates of one name the linker
// keeps one, and this one would not run everywhere.
#ifdef __AVX2__
#define Eigen Eigen_of_avx2
#define TAREWELL_KERNELS avx2
#include "audit/factor_kernels.inl"
#endif
