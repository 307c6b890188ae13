// polycubes.h - boxes and the classical sets of cube shapes, for counts that were published.
#pragma once
#include <string>

#include "support/known_designs.h"

namespace stickwright::known {

inline Cells box(std::int64_t x, std::int64_t y, std::int64_t z) {
  Cells cells;
  for (std::int64_t i = 0; i < x; ++i)
    for (std::int64_t j = 0; j < y; ++j)
      for (std::int64_t k = 0; k < z; ++k) cells.push_back({i, j, k});
  return cells;
}

// The shape drawn by rows of 'X' and '.', parted by '/', one cube thick.
inline Cells drawn(const std::string& rows) {
  Cells cells;
  std::int64_t x = 0, y = 0;
  for (char c : rows) {
    if (c == 'X') cells.push_back({x, y, 0});
    ++x;
    if (c == '/') x = 0, ++y;
  }
  return sorted(std::move(cells));
}

inline std::vector<Piece> one_each(const std::vector<Cells>& shapes) {
  std::vector<Piece> pieces;
  for (const Cells& s : shapes) pieces.push_back({"piece " + std::to_string(pieces.size() + 1), 1, 0, s, {}});
  return pieces;
}

// The twelve pentominoes, one cube thick.
inline std::vector<Piece> pentominoes() {
  std::vector<Cells> shapes;
  for (const char* rows : {".XX/XX./.X.", "XXXXX", "XXXX/X...", ".XXX/XX..", "XX/XX/X.", "XXX/.X./.X.", "X.X/XXX",
                           "X../X../XXX", "X../XX./.XX", ".X./XXX/.X.", ".X../XXXX", "XX./.X./.XX"})
    shapes.push_back(drawn(rows));
  return one_each(shapes);
}

// The seven shapes of three and four cubes that are no boxes.
inline std::vector<Piece> seven_polycubes() {
  return one_each({{{0, 0, 0}, {0, 1, 0}, {1, 0, 0}},
                   {{0, 0, 0}, {0, 1, 0}, {1, 0, 0}, {2, 0, 0}},
                   {{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {2, 0, 0}},
                   {{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {2, 1, 0}},
                   {{0, 0, 0}, {0, 1, 0}, {0, 1, 1}, {1, 0, 0}},
                   {{0, 0, 0}, {0, 1, 0}, {1, 0, 0}, {1, 0, 1}},
                   {{0, 0, 0}, {0, 0, 1}, {0, 1, 0}, {1, 0, 0}}});
}

inline Design fill(Cells goal, std::vector<Piece> pieces) {
  return {"fill", &notched(), std::move(goal), std::move(pieces)};
}

}  // namespace stickwright::known
