#include "fit/pivots.h"

#include <algorithm>
#include <cmath>
#include <limits>

// Vectors are handed over between inlined functions only.
#pragma GCC diagnostic ignored "-Wpsabi"
#define STICKWRIGHT_INLINE_MEMBER __attribute__((always_inline)) inline
#define STICKWRIGHT_INLINE static STICKWRIGHT_INLINE_MEMBER

namespace stickwright {
namespace {

constexpr double kPivot = 1e-8;   // an entry of the ratio test below it is none
constexpr double kForce = 1e-12;  // forces may be short of 0 by so much
constexpr std::int64_t kTag = kMostPlaces - 1;
constexpr int kMostTerms = 16 + kMostExchanges;  // a row touches two bodies: 12 columns and the play
constexpr double kNone = std::numeric_limits<double>::infinity();

// The same loops for each width of vector registers; which are used is decided when the program starts. All multiply
// and add in the same order, so they give the same numbers.
namespace plain {
#define STICKWRIGHT_TARGET
#include "fit/pivot_loops.h"
#undef STICKWRIGHT_TARGET
}  // namespace plain

#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__)
#define STICKWRIGHT_HAS_WIDE
#define STICKWRIGHT_TARGET
#pragma GCC push_options
#pragma GCC target("avx2")
namespace wide {
#include "fit/pivot_loops.h"
}
#pragma GCC pop_options
#pragma GCC push_options
#pragma GCC target("avx512f,avx512vl,avx512dq")
namespace widest {
#include "fit/pivot_loops.h"
}
#pragma GCC pop_options
#undef STICKWRIGHT_TARGET
#endif

struct Loops {
  PivotEnd (*pivot)(const RowTable&, const KnownBasis&, PivotWork&, double) = plain::pivot;
  void (*reached)(const RowTable&, PivotWork&, KnownBasis&) = plain::reached;
  void (*least_of_eight)(const ForceList&, const double*, LeastOfEight&) = plain::least_of_eight;
};

Loops best_loops() {
#ifdef STICKWRIGHT_HAS_WIDE
  if (__builtin_cpu_supports("avx512vl") && __builtin_cpu_supports("avx512dq"))
    return {widest::pivot, widest::reached, widest::least_of_eight};
  if (__builtin_cpu_supports("avx2")) return {wide::pivot, wide::reached, wide::least_of_eight};
#endif
  return {};
}

const Loops& loops() {
  static const Loops best = best_loops();
  return best;
}

}  // namespace

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
  return loops().pivot(t, from, w, enough);
}

KnownBasis reached(const RowTable& t, const KnownBasis& from, PivotWork& w) {
  KnownBasis k{w.basis, from.by_column, from.by_row, w.weight};
  loops().reached(t, w, k);
  return k;
}

void ForceList::add(const std::vector<int>& places, const std::vector<double>& shares) {
  place.insert(place.end(), places.begin(), places.end());
  share.insert(share.end(), shares.begin(), shares.end());
  start.push_back(static_cast<int>(place.size()));
}

void least_of_eight(const ForceList& vertices, const double* gap, LeastOfEight& out) {
  loops().least_of_eight(vertices, gap, out);
}

}  // namespace stickwright
