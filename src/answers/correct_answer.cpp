#include "answers/correct_answer.h"

#include <fmt/core.h>

#include <cmath>

#include "ledger/typed_value.h"
#include "metrology/control_chart.h"

namespace stickwright {
namespace {

// What was measured at the stop in question, and at the others that the ledger has readings of.
struct Tests {
  std::vector<Measured> measured;  // the stop in question first
  bool from_ledger = false;
};

Measured measured_at(const BatchPlan& plan, const StopPlace& place, const std::vector<double>& values) {
  return {&plan.set_ups[place.set_up].tests[place.stop].prediction, mean_of(values), static_cast<int>(values.size())};
}

// The readings in the ledger of every stop; of the one in question, those given take their place.
Result<Tests> tests_of(const BatchPlan& plan, const std::filesystem::path& file, const StopPlace& place,
                       const std::vector<double>& given) {
  Tests tests;
  if (!given.empty()) tests.measured.push_back(measured_at(plan, place, given));
  std::error_code ignored;
  if (std::filesystem::exists(file, ignored)) {
    auto opened = Ledger::open(file);
    if (!opened) return opened.problem();
    Ledger ledger = opened.take();
    for (const StopPlace& p : all_stops(plan)) {
      const bool this_one = p.set_up == place.set_up && p.stop == place.stop;
      if (this_one && !given.empty()) continue;
      const auto s = readings_at(ledger, plan, p);
      if (!s) return s.problem();
      const std::vector<double> values = s.value().all_mm();
      if (values.empty()) continue;
      tests.from_ledger |= this_one;
      tests.measured.insert(this_one ? tests.measured.begin() : tests.measured.end(), measured_at(plan, p, values));
    }
  }
  if (given.empty() && !tests.from_ledger)
    return Problem{"no_readings", "--measured",
                   "nothing was measured at this stop: give --measured, or `stickwright record` readings first.", ""};
  return tests;
}

// The stack that makes up for what the last one gave, as far as it would give it again.
Result<StopPlan> stack_anew(const BatchPlan& plan, const StopPlan& stop, Mm lasting) {
  StopPlan anew = stop;
  // A mitered stop needs a stack as much thinner as its distance came out too long; behind a square one it is the other
  // way round.
  const double change = stop.square_stop ? lasting.v : -lasting.v;
  anew.stack_target = to_nm(to_mm(stop.stack.total) + Mm{change});
  auto stack = build_stack(anew.stack_target, stack_allowance(plan.batch.shop, plan.gauge_blocks), plan.gauge_blocks);
  if (!stack) return stack.problem();
  anew.stack = stack.take();
  anew.sizes.clear();
  for (std::size_t i : anew.stack.blocks) anew.sizes.push_back(engraved(plan.gauge_blocks.blocks[i]));
  return anew;
}

}  // namespace

Result<std::vector<Mm>> measured_as_typed(const BatchPlan& plan, const StopPlace& place,
                                          const std::vector<std::string>& texts) {
  const double expected = plan.set_ups[place.set_up].tests[place.stop].test.across_flats.v;
  std::vector<Mm> out;
  for (const std::string& text : texts) {
    const auto typed = parse_typed(text, Unit::mm);
    if (!typed) return Problem{"bad_reading", "--measured", typed.problem().say, ""};
    const double mm = to_mm(typed.value()).v;
    // A test block that is a fifth off was not this test block, or not this unit.
    if (std::abs(mm - expected) > 0.2 * expected)
      return Problem{
          "bad_reading", "--measured",
          fmt::format("\"{}\" is far from the {:.3f} mm that this test block should measure. Look at the unit, "
                      "and at --setup and --stop.",
                      text, expected),
          ""};
    out.push_back(Mm{mm});
  }
  return out;
}

Result<StopCorrection> correct_answer(const BatchPlan& plan, const std::filesystem::path& ledger,
                                      const StopPlace& place, const std::vector<Mm>& measured) {
  std::vector<double> given;
  for (const Mm m : measured) given.push_back(m.v);
  const auto tests = tests_of(plan, ledger, place, given);
  if (!tests) return tests.problem();
  const Measured& first = tests.value().measured.front();
  StopCorrection a{
      place, correct_stop(tests.value().measured, leaves_of(plan.batch.shop)), {}, first.readings, first.mean_mm};
  if (a.correction.advice == StopAdvice::remake)
    a.anew = stack_anew(plan, plan.set_ups[place.set_up].stops[place.stop], a.correction.lasting);
  return a;
}

Result<std::optional<Stored>> keep_correction(const std::filesystem::path& file, const StopCorrection& a,
                                              const std::string& by, const std::string& note) {
  if (a.correction.advice != StopAdvice::shim) return std::optional<Stored>{};
  auto opened = Ledger::open(file);
  if (!opened) return opened.problem();
  Ledger ledger = opened.take();
  const auto stored = ledger.add_leaf({a.place.id, a.place.number(), a.correction.shim.total, by, note});
  if (!stored) return stored.problem();
  return std::optional(stored.value());
}

}  // namespace stickwright
