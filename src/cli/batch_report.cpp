#include "cli/batch_report.h"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include "batch/wording.h"

namespace stickwright {
namespace {

std::string test_lines(const SetUp& s, const TestPlan& t, const Batch& batch) {
  std::string out = "  test " + test_in_words(s.program, t.test) + "\n";
  out += fmt::format("       should measure {} +- {:.3f} mm across flats; {}\n", show_mm_inch(t.expected, 3), batch.tolerance.v, correction_in_words(t));
  return out;
}

std::string set_up_report(const BatchPlan& plan, const SetUp& s) {
  const Block& b = plan.split.shapes[s.shape];
  std::string out = fmt::format("\n{}: {} blocks, {} cells, {} faces\n", b.full_name(), s.blocks(), b.cells.size(), b.body.faces.size());
  for (std::size_t k = 0; k < s.stops.size(); ++k) {
    const StopPlan& stop = s.stops[k];
    out += fmt::format("  stop {}: {} face, {} contact, {} from the blade plane\n", k + 1, to_string(stop.stop.face), to_string(stop.stop.contact), show_mm_inch(stop.distance));
    out += fmt::format("       {}\n", stack_in_words(plan.batch, stop));
  }
  for (std::size_t k = 0; k < s.program.cuts.size(); ++k)
    out += fmt::format("  cut {}: {}\n", k + 1, cut_in_words(s.program, k));
  for (const TestPlan& t : s.tests) out += test_lines(s, t, plan.batch);
  return out;
}

}  // namespace

std::string setups_report(const BatchPlan& plan) {
  std::string out = fmt::format("{}: {} set-ups for sticks of {}\n", plan.batch.name, plan.set_ups.size(), show_mm_inch(plan.batch.stick, 2));
  for (const SetUp& s : plan.set_ups) out += set_up_report(plan, s);
  return out;
}

}  // namespace stickwright
