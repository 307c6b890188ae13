#include "packet/fit_tables.h"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "batch/fit_wording.h"
#include "packet/fit_view.h"

namespace stickwright {
namespace {

constexpr double kPressed = 1e-6;  // share of the forces from which on a contact binds

std::string percent(double share) {
  return fmt::format("{:.1f} %", 100 * share + 0.0);
}

Row spread_row(const std::string& name, const PlaySpread& s) {
  return {name,
          small_length(s.p05),
          small_length(s.median),
          small_length(s.p95),
          percent(s.closes.share),
          percent(s.within.share),
          percent(s.batch_closes.share)};
}

const SetUp* set_up_of(const BatchPlan& plan, int shape) {
  const auto at =
      std::find_if(plan.set_ups.begin(), plan.set_ups.end(), [&](const SetUp& s) { return s.shape == shape; });
  return at == plan.set_ups.end() ? nullptr : &*at;
}

std::string set_it(const Dimension& size, double mm) {
  if (std::abs(mm) < kLeastTold) return "as it is";
  const bool stop = size.size_of == SizeOf::stop;
  return fmt::format("{} {}", small_length(std::abs(mm)),
                     stop ? (mm < 0 ? "short" : "long") : (mm < 0 ? "thinner" : "thicker"));
}

// What a stop has to keep, along the stick and as it is measured on the test block.
std::vector<std::string> needed_cells(const FullPlan& plan, const PuzzleFit& p, const Dimension& size) {
  if (size.size_of != SizeOf::stop) return {"", ""};
  const auto& needed = p.tolerances.needed;
  const auto n =
      std::find_if(needed.begin(), needed.end(), [&](const NeededTolerance& t) { return t.shape == size.shape; });
  if (!p.tolerances.reachable || n == needed.end()) return {"–", "–"};
  const SetUp* s = set_up_of(plan.batch, size.shape);
  const auto stop = static_cast<std::size_t>(std::max(0, size.stop));
  if (!s || stop >= s->tests.size()) return {"± " + small_length(n->tolerance_mm), ""};
  return {"± " + small_length(n->tolerance_mm),
          "± " + small_length(n->tolerance_mm * std::abs(s->tests[stop].test.per_stop))};
}

}  // namespace

const std::vector<Column> kSpreadColumns = {{"play", 1.5},
                                            {"1 in 20 below", 1.6, Align::right},
                                            {"middle puzzle", 1.6, Align::right},
                                            {"1 in 20 above", 1.6, Align::right},
                                            {"close", 0.9, Align::right},
                                            {"as asked for", 0.95, Align::right},
                                            {"all of the batch", 1.1, Align::right}};

std::vector<Row> spread_rows(const FullPlan& plan, const PuzzleFit& p) {
  std::vector<Row> rows = {spread_row("as planned", p.planned)};
  if (play_view(plan.fit, p).advised) rows.push_back(spread_row("with the advice", p.advised));
  return rows;
}

const std::vector<Column> kSizeColumns = {{"size", 2.5},
                                          {"1 mm more gives play", 1, Align::right},
                                          {"set it", 2, Align::right},
                                          {"stop must stand to", 1.8, Align::right},
                                          {"on the test block", 1.8, Align::right}};

std::vector<Row> size_rows(const FullPlan& plan, const PuzzleFit& p) {
  std::vector<Row> rows;
  for (std::size_t d = 0; d < p.sizes.size(); ++d) {
    const double slope = std::abs(p.per_mm[d]) < 0.005 ? 0 : p.per_mm[d];
    Row row = {p.sizes[d].name, slope == 0 ? std::string("none") : fmt::format("{:+.2f} mm", slope),
               set_it(p.sizes[d], p.allowances.mm[d])};
    for (std::string& cell : needed_cells(plan, p, p.sizes[d])) row.push_back(std::move(cell));
    rows.push_back(std::move(row));
  }
  return rows;
}

const std::vector<Column> kTightColumns = {{"which faces press", 5.2},
                                           {"gap, pushed together", 1.6, Align::right},
                                           {"share of the force", 1.1, Align::right},
                                           {"in many puzzles", 1.1, Align::right}};

std::vector<Row> tight_rows(const FullPlan& plan, const PuzzleFit& p, std::size_t most) {
  std::vector<Row> rows;
  double rest = 0, rest_often = 0;
  std::size_t left = 0;
  for (const ContactFit& c : p.tight.contacts) {
    if (c.pressed <= kPressed) continue;
    if (rows.size() < most) {
      rows.push_back(
          {contact_in_words(plan.batch, p, c.contact), small_length(c.gap_mm), percent(c.pressed), percent(c.often)});
      continue;
    }
    rest += c.pressed, rest_often += c.often, ++left;
  }
  if (left > 0) rows.push_back({fmt::format("{} more", left), "", percent(rest), percent(rest_often)});
  return rows;
}

const std::vector<Column> kSlidingColumns = {{"step", 1.4},
                                             {"1 in 20 below", 1.6, Align::right},
                                             {"middle puzzle", 1.6, Align::right},
                                             {"slide by hand", 1.1, Align::right},
                                             {"tightest when it has gone", 1.9, Align::right}};

std::vector<Row> sliding_rows(const PuzzleFit& p) {
  std::vector<Row> rows;
  std::vector<std::size_t> free;
  for (std::size_t k = 0; k < p.sliding.size(); ++k) {
    const SlidingStep& s = p.sliding[k];
    if (s.binds)
      rows.push_back({fmt::format("{}", k + 1), small_length(s.p05_mm), small_length(s.median_mm),
                      percent(s.slides.share), fmt::format("{:.0f} mm", s.tightest_at * p.closed.unit_mm)});
    else
      free.push_back(k + 1);
  }
  if (!rows.empty() && !free.empty())
    rows.push_back({fmt::format("{}", fmt::join(free, ", ")), "", "", "nothing binds", ""});
  return rows;
}

}  // namespace stickwright
