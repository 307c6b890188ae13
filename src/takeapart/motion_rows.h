// motion_rows.h - the rules of first-order motion: one row a contact, in whole numbers.
#pragma once
#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "takeapart/contacts.h"

namespace stickwright {

// Wide enough for the sums of products that check a motion or a balance of forces.
__extension__ using Wide = __int128;

// pull . (v[to] - v[from]) >= 0, where v is (slide) or (slide, turn) of a piece.
struct MotionRow {
  int from = 0, to = 0;
  std::array<std::int64_t, 6> pull{};
};

// All rows A of an assembly. Columns are the speeds of the pieces that are not held, piece by piece.
class MotionRows {
 public:
  // Rows for sliding (3 columns a piece) or, with turning, for twists about `center` (6 columns a piece).
  //   held  these pieces stay where they are; at least one, or motions of everything together count as motions
  MotionRows(std::span<const Contact> contacts, int pieces, const std::vector<int>& held);
  MotionRows(std::span<const Contact> contacts, int pieces, const std::vector<int>& held, Vec center);

  int width() const { return width_; }
  int columns() const { return columns_; }
  int column(int piece) const { return column_[piece]; }  // the first of the piece's; -1 when held
  std::span<const MotionRow> rows() const { return rows_; }

  // Calls use(column, value) for the entries of a row that are not zero.
  template <class Use>
  void for_each_entry(const MotionRow& row, Use use) const {
    for (int a = 0; a < width_; ++a) {
      if (row.pull[a] == 0) continue;
      if (column_[row.to] >= 0) use(column_[row.to] + a, row.pull[a]);
      if (column_[row.from] >= 0) use(column_[row.from] + a, -row.pull[a]);
    }
  }

  // How fast the contact opens; below zero the pieces run into each other.  v  [columns]
  Wide opening(const MotionRow& row, std::span<const std::int64_t> v) const;

 private:
  void number_columns(int pieces, const std::vector<int>& held);
  int width_ = 3, columns_ = 0;
  std::vector<int> column_;
  std::vector<MotionRow> rows_;
};

}  // namespace stickwright
