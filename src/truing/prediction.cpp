#include "truing/prediction.h"

#include <cmath>
#include <stdexcept>

namespace stickwright {
namespace {

constexpr double kLeastSlope = 1e-12;         // per scale of the parameter: below this it does not move the distance
constexpr std::int64_t kMostTrials = 60'000;  // about half a second; the digits asked for settle long before, as a rule

// The index of the stop's number among the numbers of the state.
std::size_t stop_number(ShopState state, std::size_t stop) {
  const auto numbers = numbers_of(state);
  for (std::size_t k = 0; k < numbers.size(); ++k)
    if (numbers[k] == &state.stop_error_mm[stop]) return k;
  throw std::logic_error("the state has no such stop");
}

std::vector<Influence> influences_of(const Across& across, const ShopState& state) {
  const SawState best = best_values(state);
  const auto slopes = slopes_across(across.program, best, across.face_a, across.face_b, across.place);
  const auto parameters = parameters_of(state);
  ShopState copy = state;
  const auto known = numbers_of(copy);
  std::vector<Influence> out;
  for (std::size_t k = 0; k < slopes.size(); ++k)
    out.push_back({parameters[k], *known[k], slopes[k].value_or(Slope{})});
  return out;
}

bool matters(const Influence& i) {
  return (std::abs(i.slope.up) + std::abs(i.slope.down)) * i.parameter.scale > kLeastSlope && i.known.u > 0;
}

std::vector<BudgetInput> inputs_of(const Prediction& p, const Estimate& reading) {
  std::vector<BudgetInput> inputs;
  for (const Influence& i : p.influences) {
    if (i.parameter.name == p.stop_name) {
      for (BudgetInput part : p.stop_parts) {
        part.sensitivity *= p.per_stop;
        if (part.input.u > 0) inputs.push_back(std::move(part));
      }
    } else
      inputs.push_back({i.parameter.name, i.parameter.unit, i.known, i.slope.mean()});
  }
  if (reading.u > 0) inputs.push_back({"reading", "mm", reading, 1});
  return inputs;
}

// Whole saws drawn from what is known, each run through the forward model.
Sampled sampled_over_saws(const Across& across, const ShopState& state, const Prediction& p, std::size_t stop_at,
                          const Estimate& reading) {
  std::vector<Estimate> inputs;
  std::vector<std::size_t> numbers;  // the number that each input goes to; parts of the stop all to the stop's
  for (const BudgetInput& part : p.stop_parts) inputs.push_back(part.input), numbers.push_back(stop_at);
  ShopState copy = state;
  const auto known = numbers_of(copy);
  for (std::size_t k = 0; k < known.size(); ++k)
    if (k != stop_at && known[k]->u > 0) inputs.push_back(*known[k]), numbers.push_back(k);
  inputs.push_back(reading);
  SawState saw = best_values(state);
  *numbers_of(saw)[stop_at] = 0;
  const SawState start = saw;
  const auto model = [&](std::span<const double> drawn) {
    saw = start;
    const auto at = numbers_of(saw);
    for (std::size_t i = 0; i < numbers.size(); ++i)
      *at[numbers[i]] = i < p.stop_parts.size() ? *at[numbers[i]] + p.stop_parts[i].sensitivity * drawn[i] : drawn[i];
    const auto distance = across_flats(saw::cut(across.program, saw, across.place), across.face_a, across.face_b);
    return (distance ? *distance : p.nominal.v) + drawn.back();
  };
  return sample(inputs, model, {.seed = 1, .coverage = p.budget.coverage, .digits = 1, .most_trials = kMostTrials});
}

}  // namespace

double Prediction::stop_known() const {
  double sum = 0;
  for (const BudgetInput& part : stop_parts) sum += part.sensitivity * part.input.value;
  return sum;
}

Prediction predict(const Across& across, const ShopState& state, const std::vector<BudgetInput>& stop_parts,
                   const Estimate& reading, Draw draw) {
  const std::size_t stop_at = stop_number(state, static_cast<std::size_t>(across.stop));
  Prediction p;
  const auto nominal =
      across_flats(saw::cut(across.program, nominal_saw(Mm{state.planned_mm})), across.face_a, across.face_b);
  const SawState best = best_values(state);
  const auto expected = across_flats(saw::cut(across.program, best, across.place), across.face_a, across.face_b);
  if (!nominal || !expected) throw std::logic_error("the test block has lost a face");
  p.nominal = Mm{*nominal};
  const std::vector<Influence> all = influences_of(across, state);
  p.stop_name = all[stop_at].parameter.name;
  p.per_stop = all[stop_at].slope.mean();
  p.per_miter = all[0].slope.mean();
  p.reading = reading;
  p.stop_parts = stop_parts;
  for (const Influence& i : all)
    if (matters(i) || &i == &all[stop_at]) p.influences.push_back(i), p.bends |= i.slope.has_kink() && matters(i);
  const auto inputs = inputs_of(p, reading);
  p.budget = make_budget({"across flats", "mm", *expected}, inputs);
  if (draw == Draw::always || (draw == Draw::where_it_bends && p.bends)) {
    p.sampled = sampled_over_saws(across, state, p, stop_at, reading);
    p.compared = compare(p.budget, *p.sampled);
  }
  return p;
}

}  // namespace stickwright
