// register_widths.h - the inner loops of the .cpp that includes this, once for each width of vector registers: of the
// file that STICKWRIGHT_LOOPS names. Which are used is decided when the program starts. All multiply and add in the
// same order, so they give the same numbers. The .cpp includes all that the loops need before.
#ifndef STICKWRIGHT_LOOPS
#error "STICKWRIGHT_LOOPS names no file"
#endif

// Vectors are handed over between inlined functions only.
#pragma GCC diagnostic ignored "-Wpsabi"
#define STICKWRIGHT_INLINE_MEMBER __attribute__((always_inline)) inline
#define STICKWRIGHT_INLINE static STICKWRIGHT_INLINE_MEMBER

namespace stickwright {
namespace {

namespace plain {
#include STICKWRIGHT_LOOPS
}  // namespace plain

#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__)
#pragma GCC push_options
#pragma GCC target("avx2")
namespace wide {
#include STICKWRIGHT_LOOPS
}
#pragma GCC pop_options
#pragma GCC push_options
#pragma GCC target("avx512f,avx512vl,avx512dq")
namespace widest {
#include STICKWRIGHT_LOOPS
}
#pragma GCC pop_options

template <class Loop>
Loop* best_of(Loop* plain, Loop* wide, Loop* widest) {
  if (__builtin_cpu_supports("avx512vl") && __builtin_cpu_supports("avx512dq")) return widest;
  return __builtin_cpu_supports("avx2") ? wide : plain;
}
#define STICKWRIGHT_BEST(loop) best_of(plain::loop, wide::loop, widest::loop)
#else
#define STICKWRIGHT_BEST(loop) plain::loop
#endif

}  // namespace
}  // namespace stickwright
