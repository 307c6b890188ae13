#include "truing/correct.h"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <nlohmann/json.hpp>

#include "batch/wording.h"
#include "cli/exit_code.h"
#include "cli/say.h"
#include "cli/stop_readings.h"
#include "cli/verbs.h"

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
    const auto length =
        parse_length(text.find_first_not_of("0123456789.- ") == std::string::npos ? text + " mm" : text);
    if (!length) return Problem{"bad_reading", "--measured", length.problem().say, ""};
    // A test block that is a fifth off was not this test block, or not this unit.
    if (std::abs(length.value().v - expected) > 0.2 * expected)
      return Problem{
          "bad_reading", "--measured",
          fmt::format("\"{}\" is far from the {:.3f} mm that this test block should measure. Look at the unit, "
                      "and at --setup and --stop.",
                      text, expected),
          ""};
    out.push_back(length.value().v);
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

Json answer_json(const Answer& a, const BatchPlan& plan, const StopPlace& place) {
  const Correction& c = a.correction;
  Json j = {{"setup", place.id},
            {"stop", place.number()},
            {"readings", a.readings},
            {"mean_mm", a.mean},
            {"error_mm", c.error.v},
            {"likely_mm", c.likely.v},
            {"u_likely_mm", c.u_likely.v},
            {"shim_mm", to_mm(c.shim.total).v},
            {"leaves", Json::array()},
            {"remaining_mm", c.remaining.v},
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

std::string advice_sentence(const Answer& a, const BatchPlan& plan) {
  const Correction& c = a.correction;
  std::vector<std::string> sizes;
  for (std::size_t i : c.shim.leaves) sizes.push_back(fmt::format("{:.2f}", to_mm(plan.batch.shop.feeler_leaves[i]).v));
  switch (c.advice) {
    case StopAdvice::shim:
      return fmt::format("Put {} mm between stop and back stop; {:+.3f} mm remain.\n", fmt::join(sizes, " + "),
                         c.remaining.v);
    case StopAdvice::leave:
      return "Leave it. ";
    case StopAdvice::true_the_miter:
      return "True the miter first. ";
    case StopAdvice::remake:
      return "Set the stop anew. ";
  }
  return "";
}

std::string answer_report(const Answer& a, const BatchPlan& plan, const StopPlace& place) {
  const Correction& c = a.correction;
  const TestPlan& t = plan.set_ups[place.set_up].tests[place.stop];
  std::string out = advice_sentence(a, plan) + c.why + "\n";
  if (a.anew && *a.anew) out += "With " + stack_in_words(plan.batch, a.anew->value()) + ".\n";
  if (a.anew && !*a.anew) out += a.anew->problem().say + "\n";
  out += fmt::format(
      "{}, stop {}: {} reading{}, mean {:.3f} mm, wanted {:.3f} mm. The stop is {:+.3f} mm off along the "
      "stick, u = {:.3f} mm.\n",
      place.name, place.number(), a.readings, a.readings == 1 ? "" : "s", a.mean, t.test.across_flats.v, c.error.v,
      c.u.v);
  out += fmt::format("Likely its own doing: {:+.3f} mm, u = {:.3f} mm.\n", c.likely.v, c.u_likely.v);
  out += "Likeliest share of each cause in what was read:\n";
  for (const LikelyCause& cause : c.causes) out += fmt::format("  {:<20} {:+.3f} mm\n", cause.name, cause.mm);
  out += budget_sentence(t.prediction.budget) + "\n";
  out += "Blade at rest before you touch stop, leaf or gauge block; follow the machine's manual.\n";
  return out;
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
    fmt::print("{}", answer_report(a, p, place.value()));
  return kDone;
}

}  // namespace stickwright
