#include "batch/stick_places.h"

#include <array>
#include <cmath>
#include <numbers>

namespace stickwright {
namespace {

// The corner lines of the stick as it is drawn: along the diagonal `a` (up) and `b` (to the eye), in units.
constexpr std::array<std::array<int, 2>, 4> kLeans = {{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}};
constexpr std::array<int, 2> kUpper = {1, 0}, kEye = {0, 1}, kLower = {-1, 0};

// A plane t = at + lean.(a, b), as of a near miter; a far one leans the other way.
MiterAlong miter_along(Mm at, int lean, double unit) {
  const std::array<int, 2>& l = kLeans[static_cast<std::size_t>(lean % 4)];
  const auto on = [&](const std::array<int, 2>& corner) {
    return at + Mm{unit * (l[0] * corner[0] + l[1] * corner[1])};
  };
  return {at, on(kUpper), on(kEye), on(kLower)};
}

// The leans of the two planes that part it from the stick.
struct EndLeans {
  int near = 0, far = 0;
};

EndLeans leans_of(const Program& program) {
  EndLeans out{program.start.lean, 0};
  for (const Cut& c : program.cuts)
    if (c.severs) out.far = c.miter.lean;
  return out;
}

constexpr double kRounded = 0.0011;  // mm: lengths of parts are rounded up by no more

// A stand-in that begins with a cut of its own is severed by it.
EndLeans leans_of(const SetUp& s, const WantedPart& part) {
  if (!part.is_test) return leans_of(s.program);
  for (const TestPlan& t : s.tests)
    if (t.test.after_cut == 0 && std::abs(t.length.v - to_mm(part.part.length).v) < kRounded)
      return leans_of(test_program(s.program, t.test));
  return leans_of(s.program);
}

}  // namespace

std::vector<PartOnStick> parts_on_stick(const BatchPlan& plan, const StickPlan& sticks, const WoodPlan& wood,
                                        const CutStick& stick) {
  const double unit = unit_mm(plan.batch.stick);
  const Mm kerf = std::numbers::sqrt2 * plan.batch.shop.blade.kerf;
  std::vector<PartOnStick> out;
  Mm at = to_mm(sticks.rules.head);
  int near = 0;  // as the miter leans on the stick
  for (const int p : stick.parts) {
    const WantedPart& part = wood.parts[static_cast<std::size_t>(p)];
    const EndLeans leans = leans_of(plan.set_ups[static_cast<std::size_t>(part.set_up)], part);
    // The roll that brings the near miter of the part onto the plane that is there turns its far one along.
    const int far = near + leans.far - leans.near + 8;
    const Mm end = at + to_mm(part.part.length) - kerf;
    out.push_back({p, miter_along(at, near, unit), miter_along(end, far + 2, unit)});
    at = end + kerf;
    near = (far + 2) % 4;
  }
  return out;
}

}  // namespace stickwright
