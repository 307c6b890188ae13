// pivots.h - the simplex steps of one sample, on one part. For PartWalk.
#pragma once
#include <cstdint>
#include <vector>

#include "closing/aligned.h"
#include "closing/row_table.h"

namespace stickwright {

inline constexpr double kSlack = 2e-10;    // mm: a gap short by less is none
inline constexpr int kMostExchanges = 32;  // from one known basis; then its inverse is computed anew
inline constexpr int kLanes = 8;           // samples looked at together

// A basis that is remembered: `size` places, and the inverse of the matrix whose columns are their rows.
struct KnownBasis {
  std::vector<int> places;
  Doubles by_column, by_row;  // the inverse twice: [size][height] column by column, and row by row
  Doubles weight;             // [places] 1 / (1 + squared length of the row in terms of the basis)
};

// The state between steps, relative to a known basis: each exchange of a row is a vector, applied to what the known
// inverse gives (product form). After a few steps that costs far less than to keep an inverse up to date.
struct PivotWork {
  std::vector<int> basis;
  Doubles gap;                 // [places] h
  Doubles slack, weight;       // [places]
  Doubles force, change, row;  // [height]
  Doubles position;            // [height] columns' values, the play last
  Doubles exchanges;           // [kMostExchanges][height]
  // [kMostExchanges][kMostExchanges] entry of an earlier exchange at the position of a later one: by the earlier, by
  // the later
  Doubles met_later, met_earlier;
  std::vector<int> exchanged;  // the position in the basis of each
  double least_slack = 0;      // at most 0
  explicit PivotWork(const RowTable& t);
  double play() const { return position[basis.size() - 1]; }
};

enum class PivotEnd { done, enough, full, stuck };

// Steps from a known basis until every gap reaches the play that the forces allow, or `enough`.
//   returns  done: slack >= -kSlack everywhere; enough: every gap is at least `enough`; full: kMostExchanges steps did
//   not
//            get there; stuck: rounding leaves no step. Slacks are computed anew from `position` before they are
//            believed
PivotEnd pivot(const RowTable& t, const KnownBasis& from, PivotWork& w, double enough);

// The basis that steps have reached, from the known one. About as precise as the exchanges.
KnownBasis reached(const RowTable& t, const KnownBasis& from, PivotWork& w);

// Vertices as lists of forces: terms start[k] .. start[k + 1] of place and share.
struct ForceList {
  std::vector<int> start = {0}, place;
  std::vector<double> share;
  int count() const { return static_cast<int>(start.size()) - 1; }
  void add(const std::vector<int>& places, const std::vector<double>& shares);
};

// For eight samples side by side: the least of the values of the vertices, and which it is.
struct LeastOfEight {
  double value[kLanes];
  std::int64_t which[kLanes];
};
//   gap      [places][8]
void least_of_eight(const ForceList& vertices, const double* gap, LeastOfEight& out);

}  // namespace stickwright
