#include "packet/test_box.h"

#include <fmt/core.h>

#include <numbers>

#include "batch/wording.h"
#include "packet/fit_stops.h"
#include "packet/page.h"

namespace stickwright {
namespace {

std::string miter_in_words(const TestPlan& t) {
  return fmt::format("True the miter first: 0.1° too sharp a point reads like {:+.3f} mm.",
                     t.test.per_miter_mm_per_rad * 0.1 * std::numbers::pi / 180);
}

}  // namespace

std::string expected_in_words(const TestPlan& t) {
  return fmt::format("The saw as it is known best gives {:.3f} mm.", t.expected().v);
}

std::string bend_in_words(const Prediction& p) {
  if (!p.bends || !p.sampled || !p.compared) return "";
  const Interval& i = p.sampled->symmetric;
  return fmt::format(
      "Straight: U = {} mm about {:.3f}; drawn: {:.3f} to {:.3f} mm ({:.0f} %). {}", two_digits(p.budget.expanded),
      p.budget.value, i.low, i.high, 100 * p.sampled->coverage,
      p.compared->agrees ? "They agree." : "They do not agree: the model bends here, go by what was drawn.");
}

double draw_test_box(Canvas& canvas, At at, double width, const FullPlan& plan, const SetUp& s, std::size_t k) {
  const TestPlan& t = s.tests[k];
  const Font small = {.points = 8, .width = width - 4}, fine = {.points = 7, .width = width - 4};
  double y = at.y + 1.5;
  const auto say = [&](const std::string& words, const Font& font, double gap) {
    if (!words.empty()) y += canvas.text({at.x + 2, y}, words, font) + gap;
  };
  say(s.tests.size() > 1 ? fmt::format("PROVE STOP {}", k + 1) : "PROVE IT", {.points = 9, .bold = true}, 0.5);
  say(fmt::format("{:.3f} ± {:.3f} mm", t.test.across_flats.v, plan.batch.batch.tolerance.v),
      {.points = 15, .bold = true}, 0);
  say(fmt::format("{:.4f} in across flats. {}", t.test.across_flats.inches(), expected_in_words(t)), small, 0.8);
  say(kept_together(needed_in_words(plan, s, k)), small, 0.8);
  say(test_in_words(s.program, t.test) + ".", small, 0.8);
  say(correction_in_words(t) + " " + miter_in_words(t), small, 0.8);
  say(budget_sentence(t.prediction.budget) + ".", fine, 0.8);
  say(bend_in_words(t.prediction), fine, 0.8);
  y += 0.7;
  canvas.box({at.x, at.y, width, y - at.y}, {}, {.width = 0.35});
  return y - at.y + 2;
}

}  // namespace stickwright
