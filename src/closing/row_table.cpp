#include "closing/row_table.h"

#include <set>
#include <stdexcept>

namespace stickwright {
namespace {

std::set<int> columns_of(const Eigen::MatrixXd& m, int row) {
  std::set<int> own;
  for (int c = 0; c + 1 < static_cast<int>(m.cols()); ++c)
    if (m(row, c) != 0) own.insert(c);
  return own;
}

struct Gathered {
  std::vector<int> rows;
  std::set<int> columns;
};

// Up to four rows that follow each other, as long as they touch more of the same columns than others.
std::vector<Gathered> gather(const Eigen::MatrixXd& m) {
  std::vector<Gathered> fours;
  for (int r = 0; r < static_cast<int>(m.rows()); ++r) {
    const std::set<int> own = columns_of(m, r);
    std::set<int> both = own;
    if (!fours.empty()) both.insert(fours.back().columns.begin(), fours.back().columns.end());
    if (!fours.empty() && fours.back().rows.size() < kAbreast &&
        both.size() <= fours.back().columns.size() + own.size() / 2) {
      fours.back().rows.push_back(r);
      fours.back().columns = std::move(both);
    } else {
      fours.push_back({{r}, own});
    }
  }
  return fours;
}

}  // namespace

RowTable row_table(const BindingPart& part) {
  RowTable t;
  t.size = static_cast<int>(part.matrix.cols());
  t.height = padded(t.size);
  t.place_of.resize(part.rows.size());
  for (const Gathered& g : gather(part.matrix)) {
    const int columns = padded(static_cast<int>(g.columns.size()));
    t.fours.push_back({static_cast<int>(t.columns.size()), columns});
    t.columns.insert(t.columns.end(), g.columns.begin(), g.columns.end());
    t.columns.resize(t.fours.back().first_column + columns);
    const auto row = [&g](int i) { return i < static_cast<int>(g.rows.size()) ? g.rows[i] : -1; };
    for (const int c : g.columns)
      for (int i = 0; i < kAbreast; ++i) t.values.push_back(row(i) < 0 ? 0 : part.matrix(row(i), c));
    t.values.resize(t.columns.size() * kAbreast);
    for (int i = 0; i < kAbreast; ++i) {
      t.row_at.push_back(row(i));
      if (row(i) >= 0) t.place_of[row(i)] = t.places + i;
    }
    t.places += kAbreast;
  }
  if (t.places > kMostPlaces) throw std::length_error("a puzzle of too many contacts");
  return t;
}

}  // namespace stickwright
