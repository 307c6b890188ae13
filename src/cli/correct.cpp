#include "truing/correct.h"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <nlohmann/json.hpp>

#include "answers/stop_readings.h"
#include "batch/wording.h"
#include "cli/exit_code.h"
#include "cli/say.h"
#include "cli/verbs.h"
#include "ledger/typed_value.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

// What was measured at the stop in question, and at the others that the ledger has readings of.
struct Tests {
  std::vector<Measured> measured;  // the stop in question first
  bool from_ledger = false;
};

Result<std::vector<double>> values_given(const Options& o, double expected) {
  std::vector<double> out;
  for (const std::string& text : o.measured) {
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
    out.push_back(mm);
  }
  return out;
}

Measured measured_at(const BatchPlan& plan, const StopPlace& place, const std::vector<double>& values) {
  return {&plan.set_ups[place.set_up].tests[place.stop].prediction, mean_of(values), static_cast<int>(values.size())};
}

// The readings in the ledger of every stop; of the one in question, those given take their place.
Result<Tests> tests_of(const Options& o, const BatchPlan& plan, const StopPlace& place) {
  Tests tests;
  const auto given = values_given(o, plan.set_ups[place.set_up].tests[place.stop].test.across_flats.v);
  if (!given) return given.problem();
  if (!given.value().empty()) tests.measured.push_back(measured_at(plan, place, given.value()));
  std::error_code ignored;
  const auto file = ledger_path(o.file);
  if (std::filesystem::exists(file, ignored)) {
    auto opened = Ledger::open(file);
    if (!opened) return opened.problem();
    Ledger ledger = opened.take();
    for (const StopPlace& p : all_stops(plan)) {
      const bool this_one = p.set_up == place.set_up && p.stop == place.stop;
      if (this_one && !given.value().empty()) continue;
      const auto s = readings_at(ledger, plan, p);
      if (!s) return s.problem();
      const std::vector<double> values = s.value().all_mm();
      if (values.empty()) continue;
      tests.from_ledger |= this_one;
      tests.measured.insert(this_one ? tests.measured.begin() : tests.measured.end(), measured_at(plan, p, values));
    }
  }
  if (given.value().empty() && !tests.from_ledger)
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

struct Answer {
  Correction correction;
  std::optional<Result<StopPlan>> anew;  // when the stop is to be made anew
  int readings = 0;
  double mean = 0;
};

// What is left at the stop with the leaves put in; a stop that is made anew is not counted here.
Mm remaining(const Correction& c) {
  return c.error - to_mm(c.shim.total);
}

Json answer_json(const Answer& a, const BatchPlan& plan, const StopPlace& place) {
  const Correction& c = a.correction;
  const TestPlan& t = plan.set_ups[place.set_up].tests[place.stop];
  Json j = {{"setup", place.id},
            {"stop", place.number()},
            {"readings", a.readings},
            {"mean_mm", a.mean},
            {"wanted_mm", wanted_at(plan, place).size},
            {"expected_mm", t.expected().v},
            {"error_mm", c.error.v},
            {"shim_mm", c.wanted.v},
            {"leaves", Json::array()},
            {"remaining_mm", remaining(c).v},
            {"u_mm", c.u.v},
            {"advice", to_string(c.advice)},
            {"says", c.why},
            {"causes", Json::array()}};
  for (std::size_t i : c.shim.leaves) j["leaves"].push_back(to_mm(plan.batch.shop.feeler_leaves[i]).v);
  for (const LikelyCause& cause : c.causes) j["causes"].push_back({{"cause", cause.name}, {"mm", cause.mm}});
  j["more_readings"] = c.more_readings ? Json(*c.more_readings) : Json(nullptr);
  j["stack_mm"] = nullptr;
  if (a.anew && *a.anew) {
    j["stack_mm"] = Json::array();
    for (Nm n : a.anew->value().sizes) j["stack_mm"].push_back(to_mm(n).v);
  }
  j["unit"] = "mm";
  return j;
}

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

std::string advice_sentence(const Answer& a, const BatchPlan& plan) {
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
std::string numbers(const Answer& a, const BatchPlan& plan, const StopPlace& place) {
  const Correction& c = a.correction;
  const TestPlan& t = plan.set_ups[place.set_up].tests[place.stop];
  std::string out = fmt::format(
      "{}, stop {}: {} mm, wanted {:.3f} mm; expected with this stack, on the saw as it is "
      "known, {:.3f} mm.\n",
      place.name, place.number(),
      a.readings == 1 ? fmt::format("one reading, {:.3f}", a.mean)
                      : fmt::format("{} readings, mean {:.3f}", a.readings, a.mean),
      t.test.across_flats.v, t.expected().v);
  out += fmt::format("The stop stands {}, u = {:.3f} mm.", off_in_words(c.error), c.u.v);
  if (c.advice == StopAdvice::shim)
    out += fmt::format(" A shim of {:.3f} mm is wanted, {:.3f} mm are put in; then it stands {}.", c.wanted.v,
                       to_mm(c.shim.total).v, off_in_words(remaining(c)));
  return out + "\n";
}

// To leave it is right for the leaf, not for the blocks, when they are outside the tolerance.
std::string outside_line(const Answer& a, const BatchPlan& plan, const StopPlace& place) {
  const Wanted wanted = wanted_at(plan, place);
  if (a.correction.advice != StopAdvice::leave || std::abs(a.mean - wanted.size) <= wanted.tolerance) return "";
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

std::string answer_report(const Answer& a, const BatchPlan& plan, const StopPlace& place) {
  const Correction& c = a.correction;
  const TestPlan& t = plan.set_ups[place.set_up].tests[place.stop];
  std::string out = advice_sentence(a, plan) + c.why + "\n";
  if (a.anew && *a.anew) out += "With " + stack_in_words(plan.batch, a.anew->value()) + ".\n";
  if (a.anew && !*a.anew) out += a.anew->problem().say + "\n";
  out += outside_line(a, plan, place) + numbers(a, plan, place) + causes_in_words(c);
  out += "Known before the test, of one reading: " + budget_sentence(t.prediction.budget) + "\n";
  return out + "Touch stop, leaf and gauge block only when the blade stands; follow the machine's manual.\n";
}

std::optional<Problem> keep(const Options& o, const Answer& a, const StopPlace& place) {
  if (a.correction.advice != StopAdvice::shim) return {};
  auto opened = Ledger::open(ledger_path(o.file));
  if (!opened) return opened.problem();
  Ledger ledger = opened.take();
  const auto stored = ledger.add_leaf({place.id, place.number(), a.correction.shim.total, o.by, o.note});
  if (!stored) return stored.problem();
  return {};
}

std::string kept_line(const Options& o, const Answer& a) {
  if (a.correction.advice != StopAdvice::shim) return "Nothing was written: no leaf is to go in.\n";
  return fmt::format("Written into {}: the leaf is in; readings of this stop count from now on.\n",
                     ledger_path(o.file).string());
}

}  // namespace

int correct_verb(const Options& options) {
  const auto plan = plan_set_ups(options.file);
  if (!plan) return tell(plan.problem());
  const BatchPlan& p = plan.value();
  const auto place = find_stop(p, options.set_up, options.stop);
  if (!place) return tell(place.problem());
  const auto tests = tests_of(options, p, place.value());
  if (!tests) return tell(tests.problem());
  const Measured& first = tests.value().measured.front();
  Answer a{correct_stop(tests.value().measured, leaves_of(p.batch.shop)), {}, first.readings, first.mean_mm};
  if (a.correction.advice == StopAdvice::remake)
    a.anew = stack_anew(p, p.set_ups[place.value().set_up].stops[place.value().stop], a.correction.lasting);
  if (options.keep)
    if (auto problem = keep(options, a, place.value())) return tell(*problem);
  if (options.json)
    print_json(answer_json(a, p, place.value()));
  else
    fmt::print("{}{}", answer_report(a, p, place.value()), options.keep ? kept_line(options, a) : "");
  return kDone;
}

}  // namespace stickwright
