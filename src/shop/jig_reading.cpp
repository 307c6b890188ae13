#include "shop/jig_reading.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "shop/reading.h"

namespace stickwright {
namespace {

constexpr LengthRange kLeverArm{Mm{5}, Mm{2000}};
constexpr AngleRange kSmallAngle{Angle{}, Angle::degrees(5)};
constexpr TemperatureRange kRoom{Celsius{-10}, Celsius{50}};

std::optional<Mm> length_if(const Table& t, std::string_view key, LengthRange range) {
  return if_there(t, key, &Table::length, range);
}

std::optional<Angle> angle_if(const Table& t, std::string_view key) {
  return if_there(t, key, &Table::angle, kSmallAngle);
}

Material read_material_named(const Table& t, std::string_view key, std::span<const Material> own) {
  const std::string name = t.text(key);
  if (name.empty()) return {};  // noted by the reader already
  auto material = find_material(name, own);
  if (material) return material.take();
  t.report(key, material.problem().code, fmt::format("{}: {}", key, material.problem().say));
  return {};
}

Estimate own_figure(double value) {
  return within(value, kOwnFigureShare * std::abs(value), Spread::rectangular,
                fmt::format("shop file, taken as good to {:.0f} %", 100 * kOwnFigureShare));
}

Material read_material(const Table& t) {
  Material m;
  m.name = t.text("name");
  m.modulus = own_figure(t.modulus("modulus", {Megapascal{1}, Megapascal{1e6}}).v);
  m.expansion = own_figure(t.expansion("expansion", {PerKelvin{0}, PerKelvin{1e-3}}).v);
  m.moisture = own_figure(t.share_or("moisture_movement", {0, 0.01}, 0));
  // Most solids lie between these (from memory).
  m.poisson = t.has("poisson") ? own_figure(t.number("poisson", {0, 0.45}))
                               : within(0.35, 0.1, Spread::rectangular, "assumed: most solids lie between");
  return m;
}

template <class T>
bool name_before(const std::vector<T>& all, const std::string& name) {
  return !name.empty() && std::any_of(all.begin(), all.end(), [&](const T& one) { return one.name == name; });
}

void read_levers(const Table& t, Cradle& cradle) {
  cradle.pivot_to_leaf = length_if(t, "pivot_to_leaf", kLeverArm);
  cradle.leaf_at = t.text_or("leaf_at", "");
  cradle.flank_spread = length_if(t, "flank_spread", kLeverArm);
  cradle.flank_leaf_at = t.text_or("flank_leaf_at", "");
}

Cradle read_cradle(const Table& t, std::span<const Material> own) {
  Cradle cradle;
  cradle.name = t.text("name");
  cradle.material = read_material_named(t, "material", own);
  cradle.length = t.length("length", {Mm{10}, Mm{1000}});
  cradle.layer = t.length("layer", {Mm{0.5}, Mm{200}});
  cradle.flank = t.length("flank", {Mm{1}, Mm{100}});
  cradle.clamp_force = t.force("clamp_force", {Newton{1}, Newton{5000}});
  cradle.clamp_off_center = t.length_or("clamp_off_center", {Mm{-500}, Mm{500}}, Mm{0});
  cradle.clamp_sideways = t.share_or("clamp_sideways", {-0.7, 0.7}, 0);
  read_levers(t, cradle);
  cradle.at = t.place();
  if (cradle.length.v > 0 && 2 * std::abs(cradle.clamp_off_center.v) >= cradle.length.v)
    t.report(
        "clamp_off_center", "bad_cradle",
        fmt::format("expected less than half the cradle's length, {} mm, found {} mm: the clamp would stand beside "
                    "the cradle",
                    cradle.length.v / 2, cradle.clamp_off_center.v));
  return cradle;
}

}  // namespace

void read_blade_work(const Table& t, Blade& blade) {
  blade.plate = length_if(t, "plate", {Mm{0.3}, Mm{10}});
  blade.run_out = length_if(t, "run_out", {Mm{0}, Mm{1}});
  blade.turns_per_minute = if_there(t, "turns_per_minute", &Table::number, NumberRange{100, 20'000});
  blade.feed = if_there(t, "feed", &Table::speed, SpeedRange{MmPerSecond{1}, MmPerSecond{500}});
  const Mm least = blade.plate.value_or(Mm{0}) + blade.run_out.value_or(Mm{0});
  if (blade.kerf.v > 0 && least > blade.kerf)
    t.report(
        blade.plate ? "plate" : "run_out", "bad_kerf",
        fmt::format("expected plate and run-out within the kerf, {} mm, found {:.6g} mm together: measure the slot "
                    "and the plate again",
                    blade.kerf.v, least.v));
}

void read_sled_jig(const Table& t, std::span<const Material> own, Sled& sled) {
  if (t.has("base_material")) sled.base_material = read_material_named(t, "base_material", own);
  if (t.has("stop_material")) sled.stop_material = read_material_named(t, "stop_material", own);
  sled.tilt_lever = length_if(t, "tilt_lever", kLeverArm);
  sled.tilt_leaf_at = t.text_or("tilt_leaf_at", "");
}

std::vector<Material> read_materials(const std::vector<Table>& tables) {
  std::vector<Material> materials;
  for (const Table& t : tables) {
    Material m = read_material(t);
    if (name_before(materials, m.name))
      t.report("name", "bad_material", fmt::format("expected each material once, found \"{}\" again", m.name));
    materials.push_back(std::move(m));
  }
  return materials;
}

std::vector<Cradle> read_cradles(const std::vector<Table>& tables, std::span<const Material> own) {
  std::vector<Cradle> cradles;
  for (const Table& t : tables) {
    Cradle cradle = read_cradle(t, own);
    if (name_before(cradles, cradle.name))
      t.report("name", "bad_cradle", fmt::format("expected each cradle once, found \"{}\" again", cradle.name));
    cradles.push_back(std::move(cradle));
  }
  return cradles;
}

std::optional<Air> read_air(const Table& t) {
  if (!t.present()) return {};
  Air air;
  air.temperature = t.temperature("temperature", kRoom);
  air.temperature_spread = t.temperature_difference("temperature_spread", {Kelvin{0}, Kelvin{20}});
  air.gauge_temperature = if_there(t, "gauge_temperature", &Table::temperature, kRoom).value_or(air.temperature);
  const ShareRange humidity{0.05, 0.95};
  air.humidity = if_there(t, "humidity", &Table::share, humidity);
  air.humidity_at_milling = if_there(t, "humidity_at_milling", &Table::share, humidity);
  air.at = t.place();
  return air;
}

Known read_known(const Table& t) {
  Known known;
  known.miter = angle_if(t, "miter");
  known.tilt = angle_if(t, "tilt");
  known.roll = angle_if(t, "roll");
  known.pitch = angle_if(t, "pitch");
  known.stick = length_if(t, "stick", {Mm{0}, Mm{1}});
  known.corner = angle_if(t, "corner");
  known.stop = length_if(t, "stop", {Mm{0}, Mm{1}});
  known.seating = length_if(t, "seating", {Mm{0}, Mm{1}});
  known.clamp_force_spread = if_there(t, "clamp_force_spread", &Table::share, ShareRange{0, 1});
  known.at = t.place();
  return known;
}

std::optional<Square> read_square(const Table& t) {
  if (!t.present()) return {};
  return Square{t.angle("error", kSmallAngle), t.length("arm", {Mm{10}, Mm{1000}}), t.place()};
}

}  // namespace stickwright
