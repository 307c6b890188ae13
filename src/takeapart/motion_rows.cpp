#include "takeapart/motion_rows.h"

#include <algorithm>

namespace stickwright {

MotionRows::MotionRows(std::span<const Contact> contacts, int pieces, const std::vector<int>& held) {
  number_columns(pieces, held);
  for (const Contact& c : contacts) rows_.push_back({c.from, c.to, {c.normal.x, c.normal.y, c.normal.z}});
}

// The point p of a twist (t, w) moves at t + w x p, and n . (w x p) = w . (p x n). Multiplied by the bottom of p.
MotionRows::MotionRows(std::span<const Contact> contacts, int pieces, const std::vector<int>& held, Vec center)
    : width_(6) {
  number_columns(pieces, held);
  for (const Contact& c : contacts) {
    const Vec push = c.at.bottom * c.normal, moment = cross(c.at.top - c.at.bottom * center, c.normal);
    rows_.push_back({c.from, c.to, {push.x, push.y, push.z, moment.x, moment.y, moment.z}});
  }
}

void MotionRows::number_columns(int pieces, const std::vector<int>& held) {
  column_.assign(pieces, 0);
  for (int i : held) column_[i] = -1;
  for (int& c : column_)
    if (c == 0) c = columns_, columns_ += width_;
}

Wide MotionRows::opening(const MotionRow& row, std::span<const std::int64_t> v) const {
  Wide sum = 0;
  for_each_entry(row, [&](int column, std::int64_t value) { sum += Wide{value} * v[column]; });
  return sum;
}

}  // namespace stickwright
