// timeline.h - what is free when: hands inside the windows, clamps and other means around the clock. Inside this room
// only.
#pragma once
#include <algorithm>
#include <iterator>
#include <map>
#include <optional>
#include <vector>

#include "calendar/schedule.h"

namespace stickwright {

// How much of `left` to do in a run of free time, so that what then is left can still be done in stretches no shorter
// than `least` and no longer than the longest window.   returns  0 when the run is not worth beginning
inline Clock worth_doing(Clock left, Clock run, Clock least, Clock longest_window) {
  if (left <= run) return left;
  const Clock over = left - run, stretches = (over + longest_window - 1) / longest_window;
  const Clock done = left - std::max(over, stretches * least);
  return done >= std::max<Clock>(least, 1) ? done : 0;
}

// The free hands of the windows.
class FreeHands {
 public:
  FreeHands(std::span<const Window> windows, int hands) {
    for (std::size_t i = 0; i < windows.size(); ++i) {
      gaps_.push_back({windows[i].from, windows[i].to, hands, i});
      longest_ = std::max(longest_, windows[i].to - windows[i].from);
    }
  }

  // The earliest stretches for a task that begin at or after `start`; nothing when the windows run out.
  std::vector<Window> earliest(const Task& task, Clock start) const {
    const Clock least = task.may_split ? std::min(task.least_piece, task.hands_on) : task.hands_on;
    Clock left = task.hands_on;
    std::vector<Window> stretches;
    auto gap = std::upper_bound(gaps_.begin(), gaps_.end(), start, [](Clock t, const Gap& g) { return t < g.to; });
    while (gap != gaps_.end()) {
      Window run{std::max(start, gap->from), gap->to};
      for (++gap; gap != gaps_.end() && gap->from == run.to && gap->window == std::prev(gap)->window; ++gap)
        run.to = gap->to;
      const Clock done = task.may_split ? worth_doing(left, run.to - run.from, least, longest_)
                                        : (left <= run.to - run.from ? left : 0);
      if (done == 0) continue;
      stretches.push_back({run.from, run.from + done});
      left -= done;
      if (left == 0) return stretches;
    }
    return {};
  }

  void take(const Window& stretch) {
    for (std::size_t i = first_after(stretch.from); i < gaps_.size() && gaps_[i].from < stretch.to; ++i) {
      i += split(i, stretch.from);
      split(i, stretch.to);
      if (--gaps_[i].hands == 0) gaps_.erase(gaps_.begin() + static_cast<std::ptrdiff_t>(i--));
    }
  }

 private:
  struct Gap {
    Clock from, to;
    int hands;
    std::size_t window;
  };

  std::size_t first_after(Clock t) const {
    const auto gap = std::upper_bound(gaps_.begin(), gaps_.end(), t, [](Clock at, const Gap& g) { return at < g.to; });
    return static_cast<std::size_t>(gap - gaps_.begin());
  }

  // 1 when the gap was split at `t`, 0 when `t` is not inside it.
  std::size_t split(std::size_t i, Clock t) {
    if (t <= gaps_[i].from || t >= gaps_[i].to) return 0;
    Gap later = gaps_[i];
    gaps_[i].to = later.from = t;
    gaps_.insert(gaps_.begin() + static_cast<std::ptrdiff_t>(i + 1), later);
    return 1;
  }

  std::vector<Gap> gaps_;  // ascending; none without hands
  Clock longest_ = 0;
};

// How many of one of the means are in use over time.
class InUse {
 public:
  // Until when `amount` more would be too many, if they are at some time from `from` to `to`.
  std::optional<Clock> clash(Clock from, Clock to, int amount, int there) const {
    std::optional<Clock> until;
    auto step = used_.upper_bound(from);
    if (step != used_.begin()) --step;
    for (; step != used_.end() && step->first < to; ++step) {
      const auto next = std::next(step);
      if (next == used_.end()) break;  // nothing is in use after the last step
      if (step->second + amount > there && next->first > from) until = next->first;
    }
    return until;
  }

  void take(Clock from, Clock to, int amount) {
    if (from == to) return;
    step_at(to);
    for (auto step = step_at(from); step->first < to; ++step) step->second += amount;
  }

 private:
  std::map<Clock, int>::iterator step_at(Clock t) {
    const auto after = used_.upper_bound(t);
    return used_.try_emplace(t, after == used_.begin() ? 0 : std::prev(after)->second).first;
  }

  std::map<Clock, int> used_;  // from this time on
};

}  // namespace stickwright
