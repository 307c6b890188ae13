// true_saws.h - whole shops drawn by chance from what is known of one: what the tests of advice and coverage try it on.
#pragma once
#include <cmath>
#include <random>
#include <stdexcept>
#include <string>
#include <vector>

#include "block/catalogue.h"
#include "saw/measure.h"
#include "saw/test_block.h"
#include "truing/prediction.h"

namespace stickwright {

// How well a shop is known: standard uncertainties. The reading is a caliper's.
struct Knowledge {
  double miter = 5e-4, turns = 9e-4;  // rad: miter; tilt, roll, pitch, squareness of sticks
  double width = 0.03, seating = 0.01, pushed_home = 0.03, stack = 0.002, reading = 0.004;  // mm
};

// The test of one stop, and what is known of it.
struct StopTest {
  Across across;
  ShopState state;
  std::vector<BudgetInput> parts;
  Estimate reading;
  Prediction prediction;
};

inline Estimate known_to(double value, double u) {
  Estimate e;
  e.value = value, e.u = u;
  return e;
}

inline Program program_of(const std::string& shape) {
  for (const Block& b : block_catalogue(18))
    if (b.shape == shape) return plan_cuts(b, {.closest_stop = 0.3}).value();
  throw std::logic_error("no such block");
}

inline StopTest stop_test(const std::string& shape, const Knowledge& k, Draw draw = Draw::never) {
  const Program program = program_of(shape);
  const TestBlock block = test_block(program, 0, Mm{16}).value();
  StopTest t;
  t.across = {test_program(program, block), block.face_a, block.face_b, 0, {}};
  ShopState& s = t.state;
  s.miter_error_rad = known_to(0, k.miter), s.blade_tilt_rad = known_to(0, k.turns);
  s.cradles[0].roll_rad = known_to(0, k.turns), s.cradles[0].pitch_rad = known_to(0, k.turns);
  s.sticks[0].side_1_mm = s.sticks[0].side_2_mm = known_to(16, k.width);
  s.sticks[0].corner_error_rad = known_to(0, k.turns);
  s.gauge_temperature_c = within(20, 3, Spread::rectangular, "");
  s.cradle_warmer_k = within(0, 1, Spread::rectangular, "");
  s.gauge_expansion = within(11.5e-6, 1e-6, Spread::rectangular, "");
  s.sled_expansion = known_to(24e-6, 0), s.stop_expansion = known_to(70e-6, 1e-5);
  s.back_to_blade_mm = known_to(180, 0);
  s.run_out_mm = within(0, 0.005, Spread::rectangular, "");
  s.stack_behind_mm.assign(program.stops.size(), 40);
  s.seating_mm.assign(t.across.program.cuts.size(), known_to(0, k.seating));
  t.parts = {{"stack's nominal sum", "mm", known_to(0.001, 0), 1},
             {"blocks", "mm", known_to(0, k.stack), 1},
             {kPushedHome, "mm", known_to(0, k.pushed_home), 1}};
  s.stop_error_mm.assign(program.stops.size(), known_to(0.001, std::hypot(k.stack, k.pushed_home)));
  t.reading = known_to(0, k.reading);
  t.prediction = predict(t.across, s, t.parts, t.reading, draw);
  return t;
}

class Chance {
 public:
  explicit Chance(unsigned seed) : random_(seed) {}
  double normal() { return normal_(random_); }
  double operator()(const Estimate& e) {
    if (e.spread == Spread::rectangular)
      return e.value + half_width(e) * std::uniform_real_distribution<double>(-1, 1)(random_);
    return e.value + e.u * normal();
  }

 private:
  std::mt19937_64 random_;
  std::normal_distribution<double> normal_;
};

// A saw, and the parts of the error of the stop that is proved.
struct TrueSaw {
  SawState state;
  double lasting = 0, pushed_home = 0;
};

inline TrueSaw some_true_saw(const StopTest& t, Chance& chance) {
  TrueSaw saw;
  saw.state = best_values(t.state);
  ShopState known = t.state;
  const auto from = numbers_of(known);
  const auto to = numbers_of(saw.state);
  for (std::size_t k = 0; k < to.size(); ++k) *to[k] = chance(*from[k]);
  for (const BudgetInput& part : t.parts)
    (part.name == kPushedHome ? saw.pushed_home : saw.lasting) += part.sensitivity * chance(part.input);
  saw.state.stop_error_mm[0] = saw.lasting + saw.pushed_home;
  return saw;
}

// One more test block: new seatings, the reading's own error.
inline double one_more_reading(const StopTest& t, SawState saw, Chance& chance) {
  for (std::size_t k = 0; k < saw.seating_mm.size(); ++k) saw.seating_mm[k] = chance(t.state.seating_mm[k]);
  return *across_flats(saw::cut(t.across.program, saw), t.across.face_a, t.across.face_b) + chance(t.reading);
}

// The saw of all tests, each with a stick and a stop of its own.
inline void take_saw_of(SawState& to, const SawState& from) {
  to.miter_error_rad = from.miter_error_rad, to.blade_tilt_rad = from.blade_tilt_rad, to.cradles = from.cradles;
  to.run_out_mm = from.run_out_mm, to.gauge_temperature_c = from.gauge_temperature_c;
  to.cradle_warmer_k = from.cradle_warmer_k, to.gauge_expansion = from.gauge_expansion;
  to.stop_expansion = from.stop_expansion;
}

}  // namespace stickwright
