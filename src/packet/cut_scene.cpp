#include "packet/cut_scene.h"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "packet/body_mesh.h"

namespace stickwright {
namespace {

// How the cradle and what stands in it are drawn, in halves of the section's diagonal.
constexpr double kFlankTop = 1.35, kCradleFoot = 1.55, kGroove = 0.12, kCradleEnd = 3.0, kBladeHigh = 1.6;

// Sizes and places that stop and stack have in both scenes.
struct StopPlaces {
  double half;   // of the section's diagonal
  double back;   // the back stop's face, along the axis
  double blade;  // where the blade plane crosses the axis
  double wide() const { return kStopHalf * half; }
};

Plane turned_over(const Plane& p) {
  return {-1.0 * p.n, -p.c};
}

Plane blade_at(double t) {
  const double h = 1 / std::numbers::sqrt2;
  return {{h, 0, h}, h * t};
}

void add(SawScene& scene, AtTheSaw what, Body body) {
  if (!body.faces.empty()) scene.bodies.push_back({what, std::move(body)});
}

// A rectangle of the plate, as thick as the kerf is wide, through and beyond the work.
Body blade_body(const Plane& near_side, Mm kerf, double half) {
  const double reach = kBladeReach * half, high = kBladeHigh * half, axis = near_side.c / near_side.n.t;
  const double far = std::abs(axis) + 4 * reach + 4 * kerf.v;
  const Body box = box_body({-reach, -high, -far}, {reach, high, far});
  return clip(clip(box, turned_over(near_side), 1), {near_side.n, near_side.c + kerf.v}, 2);
}

// One flank of the V from the stop's face on, on one side of a groove that keeps the lowest corner free.
Body flank_body(double half, int side, double from, double to) {
  const double top = kFlankTop * half, foot = -kCradleFoot * half, inner = kGroove * half, s = side,
               h = 1 / std::numbers::sqrt2;
  const Body box = side > 0 ? box_body({inner, foot, from}, {top, 0.5 * half, to})
                            : box_body({-top, foot, from}, {-inner, 0.5 * half, to});
  return clip(box, {{-s * h, h, 0}, -h * half}, 1);  // below the stick's lower side
}

// The blade has sawn the cradle through.
void add_cradle(SawScene& scene, const CutAtSaw& cut, Mm kerf) {
  const double from = -2 * kFlankTop * cut.half,
               to = cut.blade_at + kerf.v * std::numbers::sqrt2 + kCradleEnd * cut.half;
  for (const int side : {-1, 1}) {
    const Body flank = clip(flank_body(cut.half, side, from, to), turned_over(cut.at.stop_face), 2);
    add(scene, AtTheSaw::cradle, clip(flank, cut.at.blade, 3));
    add(scene, AtTheSaw::cradle, clip(flank, {-1.0 * cut.at.blade.n, -(cut.at.blade.c + kerf.v)}, 3));
  }
}

void add_back_stop(SawScene& scene, const StopPlaces& p) {
  const double w = kBackHalf * p.half;
  add(scene, AtTheSaw::back_stop, box_body({-w, -w, p.back - kBackThick * p.half}, {w, w, p.back}));
}

// Side by side from the back stop on.   returns  where they end
double add_stack(SawScene& scene, const StopPlaces& p, const StopPlan& stop) {
  const double w = kStackShare * p.wide();
  double t = p.back;
  for (Nm n : stop.sizes) {
    add(scene, AtTheSaw::gauge_block, box_body({-w, -w, t}, {w, w, t + to_mm(n).v}));
    t += to_mm(n).v;
  }
  std::vector<std::string> sizes;
  for (Nm n : stop.sizes) sizes.push_back(fmt::format("{:g}", to_mm(n).v));
  scene.labels.push_back({{0, w, 0.5 * (p.back + t)}, fmt::format("gauge blocks {} mm", fmt::join(sizes, " + "))});
  return t;
}

// A bar wider than the stick, from t on to its face.
Body stop_body(const StopPlaces& p, double from, const Plane& face) {
  const double w = p.wide(), to = face.c / face.n.t + 2 * w;
  return clip(box_body({-w, -w, from}, {w, w, to}), face, 1);
}

void add_distance(SawScene& scene, const StopPlaces& p, const std::string& name, Mm distance) {
  const double y = -kDimensionAt * p.half;
  scene.lines.push_back({"stop distance", {y, 0, 0}, {y, 0, p.blade}});
  scene.labels.push_back({{y, 0, 0.5 * p.blade}, fmt::format("{}: {:.3f} mm", name, distance.v)});
}

void add_operator(SawScene& scene, const StopPlaces& p) {
  scene.labels.push_back({{-2.2 * p.half, -p.half, 0.5 * p.blade}, "you"});
  scene.labels.push_back({{2.2 * p.half, -p.half, 0.5 * p.blade}, "away"});
}

// The stick as far as it is drawn.
Body drawn(const Body& body, double to) {
  return clip(body, {{0, 0, 1}, to}, 97);
}

void add_work(SawScene& scene, const CutAtSaw& cut, const SawView& view) {
  const Cut& c = view.cut_drawn();
  const double end = cut.blade_at + view.kerf.v * std::numbers::sqrt2 + kBeyond * cut.half;
  add(scene, AtTheSaw::kept, drawn(cut.kept, end));
  add(scene, AtTheSaw::kerf, cut.kerf);
  add(scene, c.on_stick ? AtTheSaw::stick_beyond : AtTheSaw::off_cut, drawn(cut.rest, end));
}

void look_at(SawScene& scene, std::initializer_list<AtTheSaw> things) {
  bool first = true;
  for (const SceneBody& b : scene.bodies) {
    if (std::find(things.begin(), things.end(), b.what) == things.end()) continue;
    for (Point p : corners_of(b.body)) {
      if (first) scene.low = scene.high = p, first = false;
      scene.low = {std::min(scene.low.a, p.a), std::min(scene.low.b, p.b), std::min(scene.low.t, p.t)};
      scene.high = {std::max(scene.high.a, p.a), std::max(scene.high.b, p.b), std::max(scene.high.t, p.t)};
    }
  }
}

void add_marks(SawScene& scene, const CutAtSaw& cut, const StopPlaces& p, std::optional<Mm> across_flats) {
  if (cut.pencil_line) {
    scene.lines.push_back({"pencil line", cut.pencil_line->first, cut.pencil_line->second});
    scene.labels.push_back({0.5 * (cut.pencil_line->first + cut.pencil_line->second), "pencil line"});
  }
  scene.labels.push_back({{cut.clamp.a, 1.3 * p.half, cut.clamp.t}, "clamp here"});
  if (!across_flats) return;
  const auto [on_the_cut, across] = where_to_measure(cut, *across_flats);
  scene.lines.push_back({"measure", across, on_the_cut});
  scene.labels.push_back({0.5 * (across + on_the_cut), fmt::format("measure: {:.3f} mm", across_flats->v)});
}

}  // namespace

const char* to_string(AtTheSaw thing) {
  constexpr const char* kNames[] = {"kept",   "kerf", "off-cut",     "stick beyond", "blade",
                                    "cradle", "stop", "gauge block", "back stop"};
  return kNames[static_cast<int>(thing)];
}

SawScene cut_scene(const SawView& view, const StopPlan& stop, Mm back_to_blade, std::optional<Mm> across_flats) {
  const CutAtSaw cut = cut_at_saw(view);
  const StopPlaces places{cut.half, cut.blade_at - back_to_blade.v, cut.blade_at};
  SawScene scene;
  scene.contact = cut.contact;
  add_work(scene, cut, view);
  add(scene, AtTheSaw::blade, blade_body(cut.at.blade, view.kerf, cut.half));
  look_at(scene, {AtTheSaw::kept, AtTheSaw::kerf, AtTheSaw::off_cut, AtTheSaw::blade});
  add_cradle(scene, cut, view.kerf);
  add_back_stop(scene, places);
  const double from = view.stack_behind ? add_stack(scene, places, stop) : places.back;
  add(scene, AtTheSaw::stop, stop_body(places, from, cut.at.stop_face));
  add_distance(scene, places, fmt::format("stop {}", view.cut_drawn().stop + 1), stop.distance);
  add_operator(scene, places);
  add_marks(scene, cut, places, across_flats);
  return scene;
}

SawScene stop_scene(const StopPlan& stop, const Batch& batch) {
  const double half = unit_mm(batch.stick), distance = stop.distance.v;
  const Mm kerf = batch.shop.blade.kerf;
  const StopPlaces places{half, distance - batch.shop.sled.back_to_blade.v, distance};
  const Plane blade = blade_at(distance);
  SawScene scene;
  add(scene, AtTheSaw::blade, blade_body(blade, kerf, half));
  add_back_stop(scene, places);
  const double from = add_stack(scene, places, stop);
  if (stop.square_stop) {
    add(scene, AtTheSaw::stop, stop_body(places, from, {{0, 0, 1}, from + stop.square_stop->v}));
    add_distance(scene, places, "stop", stop.distance);
  } else {
    const double w = places.wide(), blank_end = from + batch.shop.sled.mitered_blank.v;
    const Body blank = box_body({-w, -w, from}, {w, w, blank_end});
    add(scene, AtTheSaw::stop, clip(blank, blade, 1));
    add(scene, AtTheSaw::off_cut, clip(blank, {-1.0 * blade.n, -(blade.c + kerf.v)}, 1));
  }
  add_operator(scene, places);
  look_at(scene, {AtTheSaw::blade, AtTheSaw::back_stop, AtTheSaw::stop, AtTheSaw::off_cut});
  return scene;
}

}  // namespace stickwright
