#include "saw/state.h"

namespace stickwright {
namespace {

constexpr double kStandardTemperature = 20;  // degrees Celsius: ISO 1

std::string numbered(const char* name, std::size_t i, std::size_t of) {
  return of == 1 ? name : std::string(name) + " " + std::to_string(i + 1);
}

// Shows every number of the state to `see`, in order: see(number, name, unit, scale).
template <class State, class See>
void each_number(State& s, const See& see) {
  see(s.miter_error_rad, "miter", "rad", 0.1);
  see(s.blade_tilt_rad, "blade tilt", "rad", 0.1);
  for (std::size_t i = 0; i < s.cradles.size(); ++i) {
    const std::string of = numbered("cradle", i, s.cradles.size());
    see(s.cradles[i].roll_rad, of + " roll", "rad", 0.1);
    see(s.cradles[i].pitch_rad, of + " pitch", "rad", 0.1);
    see(s.cradles[i].yaw_per_n, of + " yaw under the clamp", "rad/N", 1e-3);
    see(s.cradles[i].pitch_per_n, of + " pitch under the clamp", "rad/N", 1e-3);
  }
  for (std::size_t i = 0; i < s.sticks.size(); ++i) {
    const std::string of = numbered("stick", i, s.sticks.size());
    see(s.sticks[i].side_1_mm, of + " width 1", "mm", 1.0);
    see(s.sticks[i].side_2_mm, of + " width 2", "mm", 1.0);
    see(s.sticks[i].corner_error_rad, of + " squareness", "rad", 0.1);
    see(s.sticks[i].moisture_change, of + " moisture since milling", "%", 10.0);
    see(s.sticks[i].movement_1, of + " movement of width 1", "1/%", 0.1);
    see(s.sticks[i].movement_2, of + " movement of width 2", "1/%", 0.1);
  }
  see(s.kerf_mm, "kerf", "mm", 1.0);
  see(s.run_out_mm, "run-out", "mm", 1.0);
  for (std::size_t i = 0; i < s.stop_error_mm.size(); ++i)
    see(s.stop_error_mm[i], numbered("stop", i, s.stop_error_mm.size()), "mm", 1.0);
  for (std::size_t i = 0; i < s.seating_mm.size(); ++i)
    see(s.seating_mm[i], "seating at cut " + std::to_string(i + 1), "mm", 1.0);
  see(s.clamp_change_n, "clamp force", "N", 100.0);
  see(s.gauge_temperature_c, "temperature when set", "degC", 100.0);
  see(s.cradle_warmer_k, "warming since then", "K", 100.0);
  see(s.gauge_expansion, "expansion of the gauge blocks", "1/K", 1e-3);
  see(s.sled_expansion, "expansion of the sled", "1/K", 1e-3);
  see(s.stop_expansion, "expansion of the stop", "1/K", 1e-3);
  see(s.back_to_blade_mm, "back stop to blade", "mm", 1.0);
}

template <class T>
std::vector<Parameter> parameters(const StateOf<T>& state) {
  std::vector<Parameter> out;
  each_number(state, [&](const T&, std::string name, const char* unit, double scale) {
    out.push_back({std::move(name), unit, scale});
  });
  return out;
}

template <class T>
StateOf<T> same_shape(const auto& of) {
  StateOf<T> s;
  s.planned_mm = of.planned_mm;
  s.cradles.resize(of.cradles.size());
  s.sticks.resize(of.sticks.size());
  s.stop_error_mm.resize(of.stop_error_mm.size());
  s.seating_mm.resize(of.seating_mm.size());
  s.stack_behind_mm = of.stack_behind_mm;
  return s;
}

}  // namespace

template <class T>
std::vector<T*> numbers_of(StateOf<T>& state) {
  std::vector<T*> out;
  each_number(state, [&](T& number, const std::string&, const char*, double) { out.push_back(&number); });
  return out;
}
template std::vector<double*> numbers_of(SawState&);
template std::vector<Dual*> numbers_of(StateOf<Dual>&);
template std::vector<Estimate*> numbers_of(ShopState&);

std::vector<Parameter> parameters_of(const SawState& state) {
  return parameters(state);
}
std::vector<Parameter> parameters_of(const ShopState& state) {
  return parameters(state);
}

SawState nominal_saw(Mm stick) {
  SawState s;
  s.planned_mm = s.sticks[0].side_1_mm = s.sticks[0].side_2_mm = stick.v;
  s.gauge_temperature_c = kStandardTemperature;
  return s;
}

SawState best_values(const ShopState& state) {
  SawState s = same_shape<double>(state);
  std::size_t k = 0;
  const auto out = numbers_of(s);
  each_number(state, [&](const Estimate& e, const std::string&, const char*, double) { *out[k++] = e.value; });
  return s;
}

StateOf<Dual> standing_still(const SawState& state) {
  StateOf<Dual> s = same_shape<Dual>(state);
  std::size_t k = 0;
  const auto out = numbers_of(s);
  each_number(state, [&](double v, const std::string&, const char*, double) { *out[k++] = v; });
  return s;
}

StateOf<Dual> moving(const SawState& state, std::size_t k, double slope) {
  StateOf<Dual> s = standing_still(state);
  numbers_of(s)[k]->d = slope;
  return s;
}

}  // namespace stickwright
