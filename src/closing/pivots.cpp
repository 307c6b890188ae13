#include "closing/pivots.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace stickwright {
namespace {

constexpr double kPivot = 1e-8;   // an entry of the ratio test below it is none
constexpr double kForce = 1e-12;  // forces may be short of 0 by so much
constexpr std::int64_t kTag = kMostPlaces - 1;
constexpr int kMostTerms = 16 + kMostExchanges;  // a row touches two bodies: 12 columns and the play
constexpr double kNone = std::numeric_limits<double>::infinity();

}  // namespace
}  // namespace stickwright

#define STICKWRIGHT_LOOPS "closing/pivot_loops.h"
#include "closing/register_widths.h"

namespace stickwright {

PivotWork::PivotWork(const RowTable& t)
    : basis(t.size),
      gap(t.places, kFarGap),
      slack(t.places),
      weight(t.places),
      force(t.height),
      change(t.height),
      row(t.height),
      position(t.height),
      exchanges(static_cast<std::size_t>(kMostExchanges * t.height)),
      met_later(kMostExchanges * kMostExchanges),
      met_earlier(kMostExchanges * kMostExchanges) {}

PivotEnd pivot(const RowTable& t, const KnownBasis& from, PivotWork& w, double enough) {
  std::copy(from.places.begin(), from.places.end(), w.basis.begin());
  std::copy(from.weight.begin(), from.weight.end(), w.weight.begin());
  std::copy_n(from.by_column.end() - t.height, t.height, w.force.begin());
  w.exchanged.clear();
  static const auto best = STICKWRIGHT_BEST(pivot);
  return best(t, from, w, enough);
}

KnownBasis reached(const RowTable& t, const KnownBasis& from, PivotWork& w) {
  KnownBasis k{w.basis, from.by_column, from.by_row, w.weight};
  static const auto best = STICKWRIGHT_BEST(reached);
  best(t, w, k);
  return k;
}

void ForceList::add(const std::vector<int>& places, const std::vector<double>& shares) {
  place.insert(place.end(), places.begin(), places.end());
  share.insert(share.end(), shares.begin(), shares.end());
  start.push_back(static_cast<int>(place.size()));
}

void least_of_eight(const ForceList& vertices, const double* gap, LeastOfEight& out) {
  static const auto best = STICKWRIGHT_BEST(least_of_eight);
  best(vertices, gap, out);
}

}  // namespace stickwright
