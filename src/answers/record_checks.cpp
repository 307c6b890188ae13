#include "answers/record_checks.h"

#include <fmt/core.h>

#include <cmath>

#include "wood/species.h"

namespace stickwright {
namespace {

constexpr double kImpossible = 0.2;  // share of the size by which no block is off: a slip, or the wrong set-up

}  // namespace

std::optional<Problem> impossible(const RecordDesk& desk, Nm value) {
  const double wanted = desk.wanted().size, mm = to_mm(value).v;
  const auto is_near = [&](double x) { return std::abs(x - wanted) <= kImpossible * wanted; };
  if (is_near(mm)) return std::nullopt;
  return Problem{"impossible_value", "",
                 fmt::format("{:.3f} mm is more than {:.0f} % off the {:.3f} mm that {}, {}, is to measure{}", mm,
                             100 * kImpossible, wanted, desk.place().id,
                             desk.of_widths() ? "across two sides of the stick" : desk.place().size(),
                             is_near(mm * kMmPerInch) ? "; if it was inches, say --inches" : ""),
                 ""};
}

Result<std::string> wood_named(const std::string& name) {
  if (name.empty()) return name;
  const auto species = find_species(name);
  if (!species) return species.problem();
  return std::string(species.value()->name);
}

Problem no_second_width(const RecordDesk& desk) {
  if (!desk.of_widths()) return {"no_width", "", "a second value is for widths: say --width", ""};
  return {"no_width", "",
          fmt::format("the cuts leave {} one pair of the stick's sides only: one value a block", desk.place().id), ""};
}

}  // namespace stickwright
