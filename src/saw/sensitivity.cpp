#include "saw/sensitivity.h"

namespace stickwright {

std::vector<std::optional<Slope>> slopes_across(const Program& program, const SawState& state, int face_a, int face_b,
                                                Workplace place) {
  return slopes(program, state, place, [&](const BasicBody<Dual>& body) { return across_flats(body, face_a, face_b); });
}

}  // namespace stickwright
