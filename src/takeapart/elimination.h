// elimination.h - the rank of whole-number rows and a vector that they all send to zero.
#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace stickwright {

// Gaussian elimination modulo the prime 2^61 - 1, row by row.
//   rank()   a rigorous lower bound on the rank over the rationals: a minor that is not zero modulo a prime is not
//   zero.
//            It is too low only when the prime divides all the largest minors, so "full" is proved, "not full" is not
class Elimination {
 public:
  explicit Elimination(int columns) : pivot_row_(columns, -1) {}

  // Takes in one row.  returns  true when it does not depend on the rows before it
  bool add(std::span<const std::int64_t> row);

  int rank() const { return static_cast<int>(rows_.size()); }
  bool is_full() const { return rows_.size() == pivot_row_.size(); }
  std::vector<int> free_columns() const;

  // A solution of all rows = 0 in which the given free column is not zero and the other free columns are; nothing when
  // no fractions small enough lie behind the residues. Check it against the rows: modulo a prime is no proof.
  std::optional<std::vector<std::int64_t>> null_vector(int free_column) const;

  // The same for given whole numbers in all free columns; the other entries of `values` do not matter. All may be
  // multiplied by a common factor.
  std::optional<std::vector<std::int64_t>> null_vector(std::span<const std::int64_t> values) const;

 private:
  std::vector<int> pivot_row_;                    // [column]: the row with its pivot there, or -1
  std::vector<std::vector<std::uint64_t>> rows_;  // residues; 1 in the pivot column, where all other rows are 0
};

}  // namespace stickwright
