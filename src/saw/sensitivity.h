// sensitivity.h - the forward model differentiated: by how much does a measure change with each number of the state?
#pragma once
#include <cmath>
#include <optional>
#include <vector>

#include "saw/forward.h"
#include "saw/measure.h"

namespace stickwright {

// The derivative as the number grows, and as it shrinks. They differ where the model has a kink: work that touches a
// stop along a face or an edge touches with one end of it when anything turns it, and with the other end when the turn
// goes the other way.
struct Slope {
  double up = 0, down = 0;
  double mean() const { return (up + down) / 2; }  // what central differences tend to
  bool has_kink() const { return std::abs(up - down) > 1e-6 * (1 + std::abs(up) + std::abs(down)); }
};

// The slope of a measure with each number of the state (parameters_of), in units of the measure per unit of the number.
//   measure  (const BasicBody<Dual>&) -> std::optional<Dual>: those of measure.h, or any other
//   returns  nothing for a number in whose direction the measure does not exist
//   exact    derivatives, no step size; tested against central differences for every block of the catalogue
template <class Measure>
std::vector<std::optional<Slope>> slopes(const Program& program, const SawState& state, Workplace place,
                                         const Measure& measure) {
  const std::vector<Parameter> parameters = parameters_of(state);
  std::vector<std::optional<Slope>> out;
  for (std::size_t k = 0; k < parameters.size(); ++k) {
    const double scale = parameters[k].scale;
    const std::optional<Dual> up = measure(saw::cut(program, moving(state, k, scale), place));
    const std::optional<Dual> down = measure(saw::cut(program, moving(state, k, -scale), place));
    out.push_back(up && down ? std::optional(Slope{up->d / scale, -down->d / scale}) : std::nullopt);
  }
  return out;
}

// Of the distance across two faces.
std::vector<std::optional<Slope>> slopes_across(const Program& program, const SawState& state, int face_a, int face_b,
                                                Workplace place = {});

}  // namespace stickwright
