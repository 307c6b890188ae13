#include <fmt/core.h>
#include <fmt/ranges.h>

#include <cmath>

#include "answers/correct_answer.h"
#include "batch/wording.h"

namespace stickwright {
namespace {

std::string leaves_in_words(const Shim& shim, const BatchPlan& plan) {
  std::vector<std::string> sizes;
  for (std::size_t i : shim.leaves) sizes.push_back(fmt::format("{:g}", to_mm(plan.batch.shop.feeler_leaves[i]).v));
  return fmt::format("{} of {} mm", sizes.size() == 1 ? "a leaf" : "leaves", fmt::join(sizes, " + "));
}

// "0.085 mm too far from the blade": the size in three places, never "-0.000".
std::string off_in_words(Mm error) {
  const std::string size = fmt::format("{:.3f}", std::abs(error.v));
  if (size == "0.000") return "where it should";
  return fmt::format("{} mm too {} the blade", size, error.v > 0 ? "far from" : "near to");
}

std::string advice_sentence(const BatchPlan& plan, const StopCorrection& a) {
  const Correction& c = a.correction;
  switch (c.advice) {
    case StopAdvice::shim:
      return fmt::format("Put {} between stop and back stop. ", leaves_in_words(c.shim, plan));
    case StopAdvice::leave:
      return "Leave it. ";
    case StopAdvice::true_the_miter:
      return "True the miter first. ";
    case StopAdvice::remake:
      return "Set the stop anew. ";
  }
  return "";
}

// What was read, what should have been, and the stop's error.
std::string numbers(const BatchPlan& plan, const StopCorrection& a) {
  const Correction& c = a.correction;
  const TestPlan& t = plan.set_ups[a.place.set_up].tests[a.place.stop];
  std::string out = fmt::format(
      "{}, stop {}: {} mm, wanted {:.3f} mm; expected with this stack, on the saw as it is "
      "known, {:.3f} mm.\n",
      a.place.name, a.place.number(),
      a.readings == 1 ? fmt::format("one reading, {:.3f}", a.mean_mm)
                      : fmt::format("{} readings, mean {:.3f}", a.readings, a.mean_mm),
      t.test.across_flats.v, t.expected().v);
  out += fmt::format("The stop stands {}, u = {:.3f} mm.", off_in_words(c.error), c.u.v);
  if (c.advice == StopAdvice::shim)
    out += fmt::format(" A shim of {:.3f} mm is wanted, {:.3f} mm are put in; then it stands {}.", c.wanted.v,
                       to_mm(c.shim.total).v, off_in_words(a.remaining()));
  return out + "\n";
}

// To leave it is right for the leaf, not for the blocks, when they are outside the tolerance.
std::string outside_line(const BatchPlan& plan, const StopCorrection& a) {
  const Wanted wanted = wanted_at(plan, a.place);
  if (a.correction.advice != StopAdvice::leave || std::abs(a.mean_mm - wanted.size) <= wanted.tolerance) return "";
  return fmt::format(
      "But the block is outside the tolerance of {:.3f} mm: do not saw on. Find out more about what is known least, "
      "the "
      "first of the shares below.\n",
      wanted.tolerance);
}

std::string causes_in_words(const Correction& c) {
  std::string out;
  for (const LikelyCause& cause : c.causes)
    if (std::abs(cause.mm) >= 0.0005) out += fmt::format("  {:<20} {:+.3f} mm\n", cause.name, cause.mm);
  return out.empty() ? out : "Likeliest share of each cause in the difference from what was expected:\n" + out;
}

}  // namespace

std::string correction_report(const BatchPlan& plan, const StopCorrection& a) {
  const Correction& c = a.correction;
  const TestPlan& t = plan.set_ups[a.place.set_up].tests[a.place.stop];
  std::string out = advice_sentence(plan, a) + c.why + "\n";
  if (a.anew && *a.anew) out += "With " + stack_in_words(plan.batch, a.anew->value()) + ".\n";
  if (a.anew && !*a.anew) out += a.anew->problem().say + "\n";
  out += outside_line(plan, a) + numbers(plan, a) + causes_in_words(c);
  out += "Known before the test, of one reading: " + budget_sentence(t.prediction.budget) + "\n";
  return out + "Touch stop, leaf and gauge block only when the blade stands; follow the machine's manual.\n";
}

}  // namespace stickwright
