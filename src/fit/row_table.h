// row_table.h - a part's rows in the form the pivots want them: in groups that touch the same few columns, eight
// abreast.
#pragma once
#include <cstddef>
#include <vector>

#include "fit/aligned.h"
#include "fit/binding_parts.h"

namespace stickwright {

inline constexpr int kAbreast = 4;
inline constexpr int kMostPlaces = 8192;
inline constexpr double kFarGap = 1e6;  // mm: of places where there is no row

constexpr int padded(int n) {
  return (n + kAbreast - 1) / kAbreast * kAbreast;
}

struct RowGroup {
  int first = 0, length = 0;    // places, multiples of kAbreast
  int column = 0, columns = 0;  // into RowTable::columns
  std::size_t values = 0;       // into RowTable::values, column by column
};

// A row's place is where it stands in the groups; places left over hold a row of zeros.
struct RowTable {
  int size = 0;    // of a basis
  int height = 0;  // padded(size)
  int places = 0;
  std::vector<RowGroup> groups;
  std::vector<int> columns, row_at, place_of, group_at;  // row_at: -1 for none
  Doubles values;
};

//   throws   length_error: a part of more than kMostPlaces places
RowTable row_table(const BindingPart& part);

}  // namespace stickwright
