#include "packet/shim_table_view.h"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace stickwright {
namespace {

constexpr double kPoints = 9;
const std::vector<Column> kColumns = {{"measured", 1.08}, {"leaves, mm", 1}};

double distance(const ShimRow& row, Mm target) {
  return std::max({0.0, row.first.v - target.v, target.v - row.last.v});
}

}  // namespace

std::string leaves_in_words(const std::vector<Nm>& owned, const std::vector<std::size_t>& leaves) {
  std::vector<std::string> words;
  for (auto i = leaves.rbegin(); i != leaves.rend(); ++i) {
    const Nm n = owned[*i];
    words.push_back(n.v % 10'000 == 0 ? fmt::format("{:.2f}", to_mm(n).v) : fmt::format("{:.3f}", to_mm(n).v));
  }
  return fmt::format("{}", fmt::join(words, " + "));
}

std::string range_in_words(Mm first, Mm last) {
  const std::string from = fmt::format("{:.3f}", first.v), to = fmt::format("{:.3f}", last.v);
  return from == to ? from : from + "–" + to;
}

std::string advice_in_words(const std::vector<Nm>& owned, const ShimRow& row) {
  if (row.advice == StopAdvice::shim) return leaves_in_words(owned, row.shim.leaves);
  return row.advice == StopAdvice::leave ? "leave it" : to_string(row.advice);
}

std::vector<ShimRow> rows_about(const std::vector<ShimRow>& rows, Mm target, std::size_t most) {
  std::size_t first = 0, last = rows.size();
  while (last - first > most) distance(rows[first], target) > distance(rows[last - 1], target) ? ++first : --last;
  return {rows.begin() + static_cast<std::ptrdiff_t>(first), rows.begin() + static_cast<std::ptrdiff_t>(last)};
}

double draw_shim_table(Canvas& canvas, At at, double width, const ShimTableView& view) {
  double y = at.y;
  y += canvas.text({at.x, y}, view.title, {.points = 8, .bold = true, .width = width}) + 0.8;
  std::vector<Row> rows;
  // The line that says where the rest is takes the room of a row.
  const std::size_t most = view.rows.size() > view.most ? view.most - 1 : view.most;
  for (const ShimRow& r : rows_about(view.rows, view.target, most))
    rows.push_back({range_in_words(r.first, r.last), advice_in_words(view.owned, r)});
  y = draw_table(canvas, {at.x, y, width, 1000}, kColumns, rows, 0, kPoints).y + 0.8;
  if (rows.size() < view.rows.size())
    y += canvas.text({at.x, y}, fmt::format("{} more rows: stickwright correct", view.rows.size() - rows.size()),
                     {.points = 7, .width = width});
  return y - at.y;
}

}  // namespace stickwright
