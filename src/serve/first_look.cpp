#include "serve/first_look.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <condition_variable>
#include <mutex>
#include <thread>

#include "batch/shapes_cut.h"
#include "design/design_file.h"

namespace stickwright {
namespace {

using Clock = std::chrono::steady_clock;

// Raises a flag when the time is over; taken away earlier, it ends at once.
class Countdown {
 public:
  explicit Countdown(std::chrono::milliseconds time) : until_(Clock::now() + time), thread_([this] { wait(); }) {}
  ~Countdown() {
    {
      const std::lock_guard lock(mutex_);
      ended_ = true;
    }
    changed_.notify_all();
    thread_.join();
  }
  Countdown(const Countdown&) = delete;
  Countdown& operator=(const Countdown&) = delete;

  const std::atomic<bool>& over() const { return over_; }

 private:
  void wait() {
    std::unique_lock lock(mutex_);
    if (!changed_.wait_until(lock, until_, [this] { return ended_; })) over_ = true;
  }

  const Clock::time_point until_;
  std::mutex mutex_;
  std::condition_variable changed_;
  bool ended_ = false;
  std::atomic<bool> over_ = false;
  std::thread thread_;  // last: it uses the others
};

// The box around a piece, in lattice units.
struct PieceBox {
  Vec low, high;
};

PieceBox box_around(const Family& family, const Cells& cells) {
  const Vec first = family.corners(cells.front()).front();
  PieceBox box{first, first};
  for (Cell c : cells)
    for (Vec p : family.corners(c)) {
      box.low = {std::min(box.low.x, p.x), std::min(box.low.y, p.y), std::min(box.low.z, p.z)};
      box.high = {std::max(box.high.x, p.x), std::max(box.high.y, p.y), std::max(box.high.z, p.z)};
    }
  return box;
}

// Shifts by even numbers are shifts of every family.
std::int64_t even_up(std::int64_t n) {
  return n + (n % 2 != 0);
}

// Which copies are shown: the first of each kind, then the second, and so on.
std::vector<StandingPiece> pieces_supplied(const DesignPlan& plan) {
  std::vector<StandingPiece> out;
  for (int copy = 0; copy < kMaxSupplied; ++copy)
    for (std::size_t i = 0; i < plan.made.size(); ++i) {
      const MadePiece& m = plan.made[i];
      if (copy >= m.copies) continue;
      if (out.size() == kMostLaidOut) return out;
      out.push_back(
          {static_cast<int>(i), copy, m.copies > 1 ? fmt::format("{} {}", m.name, copy + 1) : m.name, m.cells});
    }
  return out;
}

}  // namespace

FirstLook first_look(Design design, const LookTimes& times) {
  const Countdown assembling(times.assemblies), in_all(times.in_all);
  DesignSearch search;
  search.limits.cancel = &assembling.over();
  search.tell.as_found = true;  // of any branch: what is found first will do
  search.apart_cancel = &in_all.over();
  return with_split(plan_design(std::move(design), search));
}

FirstLook with_split(DesignPlan plan) {
  FirstLook look{std::move(plan), {}};
  if (look.plan.design.family == &mitered()) look.split = split_with_grain(look.plan.made);
  return look;
}

bool nothing_yet(const DesignPlan& plan) {
  return plan.assemblies.verdict == Verdict::stopped && plan.assemblies.count == 0;
}

std::vector<StandingPiece> laid_side_by_side(const DesignPlan& plan) {
  const Family& family = *plan.supplied.family;
  std::vector<StandingPiece> pieces = pieces_supplied(plan);
  std::stable_sort(pieces.begin(), pieces.end(), [](const auto& a, const auto& b) { return a.made < b.made; });
  std::vector<PieceBox> boxes;
  std::int64_t wide = 0, deep = 0;
  for (const StandingPiece& p : pieces) {
    boxes.push_back(box_around(family, p.cells));
    wide = std::max(wide, boxes.back().high.x - boxes.back().low.x);
    deep = std::max(deep, boxes.back().high.y - boxes.back().low.y);
  }
  const std::int64_t pitch_x = even_up(wide + 2), pitch_y = even_up(deep + 2);
  const double square = std::sqrt(static_cast<double>(pieces.size() * pitch_y) / static_cast<double>(pitch_x));
  const auto columns = std::max<std::int64_t>(1, std::llround(std::ceil(square)));
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const auto at = static_cast<std::int64_t>(i);
    const Vec low = {even_up(boxes[i].low.x), even_up(boxes[i].low.y), even_up(boxes[i].low.z)};
    const Vec place = {at % columns * pitch_x, -(at / columns) * pitch_y, 0};
    pieces[i].cells = moved(family, {Turn{}, place - low}, pieces[i].cells);
  }
  return pieces;
}

}  // namespace stickwright
