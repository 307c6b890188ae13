#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>
#include <vector>

#include "metrology/budget.h"

namespace stickwright {
namespace {

using Row = std::vector<std::string>;

// Places after the point that show two significant digits of u.
int places_of(double u) {
  const std::string scientific = fmt::format("{:.1e}", u);
  const int exponent = std::atoi(scientific.substr(scientific.find('e') + 1).c_str());
  return std::max(0, 1 - exponent);
}

// The value with as many places as its uncertainty has.
std::string value_beside(double value, double u) {
  if (!(u > 0)) return fmt::format("{:g}", value);
  return places_of(u) > 9 ? fmt::format("{:.3g}", value) : fmt::format("{:.{}f}", value, places_of(u));
}

std::string percent(double share) {
  return fmt::format("{:.0f} %", 100 * share);
}

std::string freedom_text(double freedom) {
  return std::isinf(freedom) ? "inf" : fmt::format("{:.1f}", freedom);
}

// "95 %", "99.73 %"
std::string coverage_text(double coverage) {
  return fmt::format("{:g} %", 100 * coverage);
}

Row row_of(const BudgetLine& line) {
  return {line.name,
          value_beside(line.input.value, line.input.u) + " " + line.unit,
          two_digits(line.input.u),
          to_string(line.input.spread),
          freedom_text(line.input.freedom),
          fmt::format("{:.3g}", line.sensitivity),
          two_digits(line.contribution),
          percent(line.share),
          line.input.source};
}

// Columns as wide as their widest entry; the first and the last run left, numbers right.
std::string in_columns(const std::vector<Row>& rows) {
  std::vector<std::size_t> width(rows.front().size(), 0);
  for (const Row& row : rows)
    for (std::size_t c = 0; c < row.size(); ++c) width[c] = std::max(width[c], row[c].size());
  std::string text;
  for (const Row& row : rows) {
    text += fmt::format("{:<{}}", row.front(), width.front());
    for (std::size_t c = 1; c + 1 < row.size(); ++c) text += fmt::format("  {:>{}}", row[c], width[c]);
    text += "  " + row.back();
    text.erase(text.find_last_not_of(' ') + 1);
    text += "\n";
  }
  return text;
}

// The shares that are worth a word, the largest first; of equal ones the earlier line first.
std::vector<const BudgetLine*> telling_lines(const Budget& budget) {
  std::vector<const BudgetLine*> lines;
  for (const BudgetLine& line : budget.lines)
    if (std::abs(line.share) >= 0.005) lines.push_back(&line);
  std::stable_sort(lines.begin(), lines.end(), [](auto* a, auto* b) { return a->share > b->share; });
  return lines;
}

}  // namespace

std::string two_digits(double u) {
  if (u == 0) return "0";
  const double rounded = std::strtod(fmt::format("{:.1e}", u).c_str(), nullptr);
  const int places = places_of(u);
  return places > 9 ? fmt::format("{:.1e}", u) : fmt::format("{:.{}f}", rounded, places);
}

std::string budget_sentence(const Budget& budget) {
  std::string text = fmt::format("u = {} {}", two_digits(budget.u), budget.unit);
  const char* before = ": ";
  for (const BudgetLine* line : telling_lines(budget)) {
    text += before + line->name + " " + percent(line->share);
    before = ", ";
  }
  return text +
         fmt::format("; U = {} {} ({})", two_digits(budget.expanded), budget.unit, coverage_text(budget.coverage));
}

std::string budget_table(const Budget& budget) {
  std::vector<Row> rows = {{"input", "value", "u", "spread", "freedom", "c", "|c| u, " + budget.unit, "share", "from"}};
  for (const BudgetLine& line : budget.lines) rows.push_back(row_of(line));
  return in_columns(rows) + fmt::format("{} = {} {}, u = {} {}, {} degrees of freedom, k = {:.2f}, U = {} {} ({})\n",
                                        budget.name, value_beside(budget.value, budget.u), budget.unit,
                                        two_digits(budget.u), budget.unit, freedom_text(budget.freedom), budget.k,
                                        two_digits(budget.expanded), budget.unit, coverage_text(budget.coverage));
}

}  // namespace stickwright
