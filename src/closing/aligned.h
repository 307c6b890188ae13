// aligned.h - arrays that start on a cache line.
#pragma once
#include <cstddef>
#include <new>
#include <vector>

namespace stickwright {

template <class T>
struct LineAllocator {
  using value_type = T;
  static constexpr std::align_val_t kLine{64};
  LineAllocator() = default;
  template <class U>
  LineAllocator(const LineAllocator<U>&) {}
  T* allocate(std::size_t n) { return static_cast<T*>(::operator new(n * sizeof(T), kLine)); }
  void deallocate(T* p, std::size_t) { ::operator delete(p, kLine); }
  friend bool operator==(LineAllocator, LineAllocator) { return true; }
};

using Doubles = std::vector<double, LineAllocator<double>>;

}  // namespace stickwright
