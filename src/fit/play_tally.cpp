#include "fit/play_tally.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace stickwright {
namespace {

constexpr double kFine = 0.001;  // mm
constexpr double kReach = 8;     // mm to both sides of 0: far more than a puzzle that anybody would glue
constexpr auto kFineBars = static_cast<std::size_t>(2 * kReach / kFine);

std::size_t fine_bar(double play) {
  const double at = std::floor((play + kReach) / kFine);
  return static_cast<std::size_t>(std::clamp(at, 0.0, static_cast<double>(kFineBars - 1)));
}
double start_of(std::size_t bar) {
  return static_cast<double>(bar) * kFine - kReach;
}

// Widths that read well on an axis.
double round_width(double least) {
  for (double decade = kFine;; decade *= 10)
    for (double step : {1.0, 2.0, 5.0})
      if (decade * step >= least) return decade * step;
}

}  // namespace

PlayTally::PlayTally(const PlayWindow& window, int copies) : window_(window), copies_(copies), fine_(kFineBars) {}

void PlayTally::add(std::span<const double> plays) {
  assert(plays.size() % static_cast<std::size_t>(copies_) == 0);
  for (std::size_t from = 0; from < plays.size(); from += static_cast<std::size_t>(copies_)) {
    int closes = 0, within = 0;
    for (double play : plays.subspan(from, static_cast<std::size_t>(copies_))) {
      closes += play >= window_.closes_from;
      within += play >= window_.least && play <= window_.most;
      sum_ += play, square_ += play * play;
      ++fine_[fine_bar(play)];
    }
    closes_.add(static_cast<double>(closes) / copies_);
    within_.add(static_cast<double>(within) / copies_);
    all_close_.add(closes == copies_);
    ++batches_, samples_ += copies_;
  }
}

double PlayTally::mean() const {
  return sum_ / static_cast<double>(samples_);
}

double PlayTally::deviation() const {
  const double n = static_cast<double>(samples_);
  return std::sqrt(std::max(0.0, square_ / n - mean() * mean()));
}

double PlayTally::quantile(double share) const {
  const double wanted = share * static_cast<double>(samples_);
  double below = 0;
  for (std::size_t k = 0; k < fine_.size(); ++k) {
    const auto here = static_cast<double>(fine_[k]);
    if (here > 0 && below + here >= wanted) return start_of(k) + kFine * std::max(0.0, wanted - below) / here;
    below += here;
  }
  return kReach;
}

ShareFound PlayTally::Count::over(std::int64_t batches) const {
  const auto n = static_cast<double>(batches);
  const double share = sum / n, variance = std::max(0.0, square / n - share * share);
  return {share, std::sqrt(variance / n)};
}

ShareFound PlayTally::closes() const {
  return closes_.over(batches_);
}
ShareFound PlayTally::within() const {
  return within_.over(batches_);
}
ShareFound PlayTally::batch_closes() const {
  return all_close_.over(batches_);
}

PlayTally::Bars PlayTally::bars(int most) const {
  const double low = quantile(0.001), high = quantile(0.999);
  Bars out;
  out.width = round_width((high - low) / (most - 1));
  out.from = out.width * std::floor(low / out.width);
  out.count.resize(static_cast<std::size_t>(std::ceil((high - out.from) / out.width)) + 1);
  for (std::size_t k = 0; k < fine_.size(); ++k) {
    if (fine_[k] == 0) continue;
    const double at = std::floor((start_of(k) + kFine / 2 - out.from) / out.width);
    out.count[static_cast<std::size_t>(std::clamp(at, 0.0, static_cast<double>(out.count.size() - 1)))] += fine_[k];
  }
  return out;
}

}  // namespace stickwright
