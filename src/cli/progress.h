// progress.h - one line on the terminal that says how far long work has come, and what is left.
#pragma once
#include <chrono>
#include <cstdint>
#include <string>

namespace stickwright {

// On a terminal: a bar that is drawn over, a few times a second, once the work has taken a second. Otherwise a line to
// stderr at every quarter of such work. Nothing stays on the terminal in the end.
class Progress {
 public:
  Progress();
  ~Progress();
  // share: of the work that is done, 0 to 1. What is left is estimated from it and the time so far.
  void show(const std::string& words, double share);
  // The next stage: its share starts from 0.
  void restart();

 private:
  using Clock = std::chrono::steady_clock;
  void draw(const std::string& words, double share, double seconds);

  bool terminal_;
  Clock::time_point start_, drawn_;
  int quarters_ = 0;
  bool anything_ = false;
};

}  // namespace stickwright
