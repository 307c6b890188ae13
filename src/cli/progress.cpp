#include "cli/progress.h"

#include <fmt/core.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>

namespace stickwright {
namespace {

constexpr double kQuiet = 1, kBetween = 0.2;  // seconds
constexpr int kBar = 24;                      // characters

std::size_t columns() {
  winsize size{};
  return ioctl(STDERR_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0 ? size.ws_col : 80;
}

std::string time_in_words(double seconds) {
  if (seconds < 90) return fmt::format("{:.0f} s", seconds);
  if (seconds < 5400) return fmt::format("{:.0f} min", seconds / 60);
  return seconds < 360'000 ? fmt::format("{:.0f} h", seconds / 3600) : std::string("days");
}

}  // namespace

Progress::Progress() : terminal_(isatty(STDERR_FILENO) == 1), start_(Clock::now()), drawn_(start_) {}

Progress::~Progress() {
  if (terminal_ && anything_) fmt::print(stderr, "\r\x1b[2K");
}

void Progress::restart() {
  start_ = drawn_ = Clock::now();
  quarters_ = 0;
}

void Progress::show(const std::string& words, double share) {
  const auto now = Clock::now();
  const double seconds = std::chrono::duration<double>(now - start_).count();
  if (seconds < kQuiet) return;
  const int quarters = static_cast<int>(4 * share);
  if (terminal_ ? std::chrono::duration<double>(now - drawn_).count() < kBetween : quarters <= quarters_) return;
  drawn_ = now, quarters_ = quarters;
  draw(words, share, seconds);
}

void Progress::draw(const std::string& words, double share, double seconds) {
  const std::string left =
      share > 0.002 ? fmt::format("about {} left", time_in_words(seconds * (1 - share) / share)) : "just begun";
  std::string line = fmt::format("{}; {:.0f} % searched, {}", words, 100 * share, left);
  if (!terminal_) return fmt::print(stderr, "{}\n", line);
  const int full = static_cast<int>(kBar * std::clamp(share, 0.0, 1.0));
  line = fmt::format("[{:#<{}}{:.<{}}] {}", "", full, "", kBar - full, line);
  fmt::print(stderr, "\r\x1b[2K{}", line.substr(0, columns() - 1));
  std::fflush(stderr);
  anything_ = true;
}

}  // namespace stickwright
