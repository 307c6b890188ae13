#include "fit/row_table.h"

#include <set>
#include <stdexcept>

namespace stickwright {
namespace {

std::size_t work(std::size_t columns, std::size_t rows) {
  return columns * static_cast<std::size_t>(padded(static_cast<int>(rows)));
}

struct Gathered {
  std::vector<int> rows;
  std::set<int> columns;
};

// Rows that follow each other stay together as long as that is no more work than apart.
std::vector<Gathered> gather(const Eigen::MatrixXd& m) {
  std::vector<Gathered> groups;
  for (int r = 0; r < static_cast<int>(m.rows()); ++r) {
    std::set<int> own;
    for (int c = 0; c < static_cast<int>(m.cols()); ++c)
      if (m(r, c) != 0) own.insert(c);
    if (!groups.empty()) {
      Gathered& last = groups.back();
      std::set<int> both = last.columns;
      both.insert(own.begin(), own.end());
      if (work(both.size(), last.rows.size() + 1) <=
          work(last.columns.size(), last.rows.size()) + work(own.size(), 1)) {
        last.rows.push_back(r);
        last.columns = std::move(both);
        continue;
      }
    }
    groups.push_back({{r}, std::move(own)});
  }
  return groups;
}

}  // namespace

RowTable row_table(const BindingPart& part) {
  RowTable t;
  t.size = static_cast<int>(part.matrix.cols());
  t.height = padded(t.size);
  t.place_of.resize(part.rows.size());
  for (const Gathered& g : gather(part.matrix)) {
    const int length = padded(static_cast<int>(g.rows.size()));
    t.groups.push_back(
        {t.places, length, static_cast<int>(t.columns.size()), static_cast<int>(g.columns.size()), t.values.size()});
    for (const int c : g.columns) {
      t.columns.push_back(c);
      for (int i = 0; i < length; ++i)
        t.values.push_back(i < static_cast<int>(g.rows.size()) ? part.matrix(g.rows[i], c) : 0);
    }
    for (int i = 0; i < length; ++i) {
      const bool row = i < static_cast<int>(g.rows.size());
      t.row_at.push_back(row ? g.rows[i] : -1);
      t.group_at.push_back(static_cast<int>(t.groups.size()) - 1);
      if (row) t.place_of[g.rows[i]] = t.places + i;
    }
    t.places += length;
  }
  if (t.places > kMostPlaces) throw std::length_error("a puzzle of too many contacts");
  return t;
}

}  // namespace stickwright
