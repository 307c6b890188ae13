#include "wood/species.h"

#include <fmt/core.h>

#include <algorithm>
#include <cctype>

#include "text/nearest.h"

namespace stickwright {
namespace {

using Opt = std::optional<Figure>;

constexpr Figure read(double value) {
  return {value, Basis::read};
}
constexpr Figure copied(double value) {
  return {value, Basis::transcribed};
}
constexpr Figure memory(double value) {
  return {value, Basis::memory};
}
constexpr Opt none = std::nullopt;

constexpr std::string_view kCancer =
    "Named in reports of nasal cancer among woodworkers: keep the dust out of the air you breathe.";
constexpr std::string_view kCancerSkin =
    "May irritate skin and airways (from memory), and named in reports of nasal cancer among woodworkers: keep the "
    "dust "
    "out of the air you breathe and off the skin.";
constexpr std::string_view kSkin =
    "May sensitize skin and airways (from memory): try a small piece first, keep the dust off the skin, stop at a "
    "rash.";
constexpr std::string_view kRosewood =
    "May sensitize skin and airways (from memory); the trade name covers many species. Its sale across borders is "
    "regulated (from memory): ask for the papers.";
constexpr std::string_view kNausea = "Its dust is reported to cause nausea (from memory): work with good extraction.";

// name, other names, density, radial, tangential, hardness, caution
constexpr Species kSpecies[] = {
    {"African blackwood",
     {"blackwood", "grenadilla"},
     copied(1270),
     memory(0.00099),
     memory(0.00165),
     memory(16320),
     kRosewood},
    {"African mahogany", {"khaya"}, none, copied(0.00141), copied(0.00201), memory(3690), kCancerSkin},
    {"American beech", {"beech"}, read(717), read(0.00190), read(0.00431), memory(5780), kCancer},
    {"American chestnut", {"chestnut"}, read(482), read(0.00116), read(0.00234), memory(2400), ""},
    {"American elm", {"elm"}, read(560), read(0.00144), read(0.00338), memory(3690), kCancer},
    {"American holly", {"holly"}, memory(638), copied(0.00165), copied(0.00353), memory(4540), ""},
    {"basswood", {"American basswood"}, read(414), read(0.00230), read(0.00330), memory(1820), ""},
    {"black cherry", {"cherry", "American cherry"}, read(560), read(0.00126), read(0.00248), read(4230), ""},
    {"black walnut",
     {"walnut", "American walnut"},
     memory(616),
     read(0.00190),
     read(0.00274),
     memory(4490),
     kCancerSkin},
    {"bloodwood", {}, memory(1050), memory(0.00158), memory(0.00245), memory(12900), ""},
    {"Brazilian rosewood", {}, memory(880), memory(0.00099), memory(0.00158), memory(12100), kRosewood},
    {"bubinga", {}, memory(890), memory(0.00208), memory(0.00297), memory(10720), ""},
    {"butternut", {"white walnut"}, read(426), read(0.00116), read(0.00223), memory(2180), ""},
    {"canarywood", {}, memory(830), none, none, memory(5960), ""},
    {"ebony", {"African ebony"}, memory(990), none, none, memory(13700), kSkin},
    {"Indian rosewood",
     {"East Indian rosewood"},
     read(849),
     memory(0.00092),
     memory(0.00201),
     memory(14100),
     kRosewood},
    {"mockernut hickory", {}, read(806), copied(0.00259), read(0.00411), memory(8760), ""},
    {"northern red oak", {"red oak"}, memory(706), read(0.00158), read(0.00369), memory(5740), kCancer},
    {"padauk", {"African padauk"}, memory(745), memory(0.00112), read(0.00180), memory(8760), kSkin},
    {"pecan hickory", {"pecan"}, read(739), read(0.00169), read(0.00315), memory(8100), ""},
    {"persimmon", {"common persimmon"}, memory(829), read(0.00278), read(0.00403), memory(10230), ""},
    {"purpleheart", {}, memory(905), memory(0.00109), read(0.00212), read(8270), kNausea},
    {"red alder", {"alder"}, read(459), read(0.00151), read(0.00256), memory(2620), ""},
    {"red maple", {"soft maple"}, read(605), read(0.00137), read(0.00289), memory(4230), ""},
    {"shagbark hickory", {"true hickory"}, read(806), copied(0.00259), read(0.00411), memory(8360), ""},
    {"sugar maple", {"hard maple", "rock maple"}, read(706), read(0.00165), read(0.00353), read(6450), ""},
    {"sweet birch", {"black birch"}, read(728), read(0.00256), read(0.00338), memory(6540), kCancer},
    {"sweetgum", {}, memory(582), read(0.00183), read(0.00365), memory(3780), ""},
    {"sycamore", {"American sycamore"}, memory(549), read(0.00172), read(0.00296), memory(3430), ""},
    {"teak", {}, memory(655), copied(0.00101), read(0.00186), read(4450), kCancerSkin},
    {"true mahogany", {"American mahogany"}, memory(590), copied(0.00172), copied(0.00238), memory(3560), kCancerSkin},
    {"wenge", {}, memory(870), none, read(0.00201), none, kSkin},
    {"white ash", {"ash"}, read(672), read(0.00169), read(0.00274), memory(5870), kCancer},
    {"white oak", {}, memory(762), read(0.00180), read(0.00365), memory(6050), kCancer},
    {"yellow birch", {}, read(694), read(0.00256), read(0.00338), memory(5600), kCancer},
    {"yellow-poplar",
     {"yellow poplar", "poplar", "tulip poplar"},
     memory(470),
     copied(0.00158),
     copied(0.00289),
     memory(2400),
     ""},
    {"zebrawood", {}, memory(805), memory(0.00267), memory(0.00388), memory(8140), ""},
};

// Small letters, single spaces, none at the ends.
std::string plain(std::string_view name) {
  std::string result;
  for (const char c : name) {
    const bool gap = c == ' ' || c == '\t';
    if (gap && (result.empty() || result.back() == ' ')) continue;
    result += gap ? ' ' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  }
  if (result.ends_with(' ')) result.pop_back();
  return result;
}

bool goes_by(const Species& s, const std::string& name) {
  return plain(s.name) == name ||
         std::any_of(s.also.begin(), s.also.end(), [&](auto other) { return !other.empty() && plain(other) == name; });
}

// The species' own names first: "maple" is answered with the maples, not with what the yards call one of them.
std::vector<std::string> names_near(const std::string& wanted) {
  std::vector<std::string> own, others;
  for (const Species& s : kSpecies) own.emplace_back(s.name);
  for (const Species& s : kSpecies)
    for (const std::string_view other : s.also)
      if (!other.empty()) others.emplace_back(other);
  const auto near = nearest_names(wanted, own, 4);
  return near.empty() ? nearest_names(wanted, others, 4) : near;
}

}  // namespace

std::string_view basis_text(Basis basis) {
  switch (basis) {
    case Basis::read:
      return "published";
    case Basis::transcribed:
      return "transcribed";
    case Basis::memory:
      return "from memory";
  }
  return "";
}

std::span<const Species> all_species() {
  return kSpecies;
}

Result<const Species*> find_species(std::string_view name) {
  const std::string wanted = plain(name);
  const auto hit =
      std::find_if(std::begin(kSpecies), std::end(kSpecies), [&](const Species& s) { return goes_by(s, wanted); });
  if (!wanted.empty() && hit != std::end(kSpecies)) return &*hit;
  const auto near = names_near(wanted);
  const std::string hint = near.empty() ? fmt::format("choose one of the {} that are known", std::size(kSpecies))
                                        : fmt::format("did you mean {}?", quoted_list(near));
  return Problem{"unknown_wood", "", fmt::format("expected the name of a wood; \"{}\" is not known: {}", name, hint),
                 ""};
}

std::string_view dust_caution() {
  return "Wood dust harms the airways: collect it at the saw and wear a fitted respirator. Limits for a day of 8 "
         "hours: "
         "1 mg/m3 (NIOSH), hardwood 3 mg/m3 (HSE); your local code may ask for less.";
}

}  // namespace stickwright
