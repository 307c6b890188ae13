// row_table.h - a part's rows in the form the pivots want them: in groups that touch the same few columns, eight
// abreast.
#pragma once
#include <cstddef>
#include <vector>

#include "closing/aligned.h"
#include "closing/binding_parts.h"

namespace stickwright {

inline constexpr int kAbreast = 4;
inline constexpr int kMostPlaces = 8192;
inline constexpr double kFarGap = 1e6;  // mm: of places where there is no row

constexpr int padded(int n) {
  return (n + kAbreast - 1) / kAbreast * kAbreast;
}

// Four rows that follow each other, with the columns that any of them touches: but for the last column, which all touch
// with
// 1. Their number is a multiple of four; columns too many hold zeros.
struct FourRows {
  int first_column = 0,
      columns = 0;  // into RowTable::columns; four values each, in the same order, in RowTable::values
};

// A row's place is where it stands in the fours; places left over hold a row that touches the last column only.
struct RowTable {
  int size = 0;    // of a basis
  int height = 0;  // padded(size)
  int places = 0;
  std::vector<FourRows> fours;
  std::vector<int> columns, row_at, place_of;  // row_at: -1 for none
  Doubles values;
};

//   throws   length_error: a part of more than kMostPlaces places
RowTable row_table(const BindingPart& part);

}  // namespace stickwright
