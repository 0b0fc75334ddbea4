#include "audit/factor_kernels.hpp"

namespace tarewell::audit {

namespace plain {
extern const factor_kernels kernels;
}
namespace avx2 {
extern const factor_kernels kernels;
}

const factor_kernels& plain_kernels() { return plain::kernels; }

const factor_kernels* avx2_kernels() {
#ifdef TAREWELL_AVX2
    if (__builtin_cpu_supports("avx2") != 0 && __builtin_cpu_supports("fma") != 0) {
        return &avx2::kernels;
    }
#endif
    return nullptr;
}

const factor_kernels& best_kernels() {
    static const auto& best = avx2_kernels() != nullptr ? *avx2_kernels() : plain_kernels();
    return best;
}

} // namespace tarewell::audit
