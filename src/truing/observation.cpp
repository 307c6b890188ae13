#include "truing/observation.h"

#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "saw/measure.h"

namespace stickwright {
namespace {

constexpr std::array kCorners = {"away", "up", "near", "down"};
// The two sides of the stick that meet in each of these corner lines (body.h).
constexpr std::array<std::array<int, 2>, 4> kSidesAt = {{{0, 2}, {0, 3}, {1, 3}, {1, 2}}};
constexpr int kBlockUnits = 4;  // length of the truing block along the stick's axis

template <class T>
T tangent(T angle) {
  using std::cos;
  using std::sin;
  return sin(angle) / cos(angle);
}

template <class T>
const BasicPlane<T>& plane_of(const BasicBody<T>& body, int made_by) {
  const BasicFace<T>* f = face_made_by(body, made_by);
  if (!f) throw std::logic_error("the truing block has lost a face");
  return f->plane;
}

}  // namespace

const char* to_string(Look look) {
  constexpr std::array<const char*, kLooks> kNames = {"point", "blade", "corner", "width", "bar", "flanks"};
  return kNames[static_cast<int>(look)];
}

int sign_of_square(Look look) {
  return look == Look::point ? -1 : look == Look::blade ? 1 : 0;
}

std::string name_of(const Observation& o) {
  switch (o.look) {
    case Look::point:
      return "square over the point of two opposite miters";
    case Look::blade:
      return "square on the sled against the blade plate";
    case Look::corner_length:
      return std::string("truing block along its corner ") + kCorners[o.which];
    case Look::width:
      return "width " + std::to_string(o.which + 1) + " of the stick";
    case Look::bar:
      return "straight bar in the cradle, along it";
    case Look::flanks:
      return "indicator from flank to flank of the cradle";
  }
  return "";
}

Program truing_block() {
  Program p;
  p.start = {End::near, 0, 0};
  p.stops = {{StopFace::square, kBlockUnits + 1, Seating::point}};
  Cut cut;
  cut.miter = {End::far, 0, kBlockUnits};
  cut.severs = true;
  p.cuts = {cut};
  p.length = kBlockUnits;
  return p;
}

template <class T>
BlockShape<T> block_shape(const StateOf<T>& state) {
  const BasicBody<T> body = saw::cut(truing_block(), state);
  BlockShape<T> shape;
  shape.past_square = *angle_between(body, 0, 1) - T(std::numbers::pi / 2);
  const auto &near = plane_of(body, 0), &far = plane_of(body, 1);
  for (std::size_t k = 0; k < kSidesAt.size(); ++k) {
    const auto &s1 = plane_of(body, stick_side(kSidesAt[k][0])), &s2 = plane_of(body, stick_side(kSidesAt[k][1]));
    shape.corner_mm[k] = length(meeting_point(far, s1, s2) - meeting_point(near, s1, s2));
  }
  return shape;
}
template BlockShape<double> block_shape(const SawState&);
template BlockShape<Dual> block_shape(const StateOf<Dual>&);

template <class T>
T expected_reading(const Observation& o, const StateOf<T>& state, const BlockShape<T>& block) {
  switch (o.look) {
    case Look::point:
      return T(o.over.v) * block.past_square;
    case Look::blade:
      return T(o.over.v) * tangent(state.blade_tilt_rad);
    case Look::corner_length:
      return block.corner_mm[static_cast<std::size_t>(o.which)];
    case Look::width:
      return o.which == 0 ? state.sticks[0].side_1_mm : state.sticks[0].side_2_mm;
    case Look::bar:
      return T(o.over.v) * tangent(state.cradles[0].pitch_rad);
    case Look::flanks:
      return T(o.over.v) * tangent(state.cradles[0].roll_rad);
  }
  return T(0);
}
template double expected_reading(const Observation&, const SawState&, const BlockShape<double>&);
template Dual expected_reading(const Observation&, const StateOf<Dual>&, const BlockShape<Dual>&);

}  // namespace stickwright
