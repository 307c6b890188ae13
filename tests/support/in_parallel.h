// in_parallel.h - a loop on several threads.
#pragma once
#include <algorithm>
#include <atomic>
#include <cstddef>
#include <thread>
#include <vector>

namespace stickwright {

// Calls work(0) to work(count - 1), a handful at a time.
template <typename Work>
void for_each_index(std::size_t count, int threads, std::size_t handful, const Work& work) {
  std::atomic<std::size_t> next = 0;
  std::vector<std::jthread> workers;
  for (int t = 0; t < threads; ++t)
    workers.emplace_back([&] {
      for (std::size_t from = next.fetch_add(handful); from < count; from = next.fetch_add(handful))
        for (std::size_t k = from; k < std::min(from + handful, count); ++k) work(k);
    });
}

}  // namespace stickwright
