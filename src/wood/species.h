// species.h - the woods that a maker may name: how heavy, how far they move, how hard, and what to be careful about.
#pragma once
#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/result.h"

namespace stickwright {

// Where a figure comes from.
//   read         read in the published table
//   transcribed  read in another author's copy of the table
//   memory       from memory: good for planning, not for proof; say so wherever it is shown
enum class Basis { read, transcribed, memory };

std::string_view basis_text(Basis basis);  // "published", "transcribed", "from memory"

struct Figure {
  double value = 0;
  Basis basis = Basis::memory;
};

// A missing figure is one that we have no trustworthy number for: measure instead.
struct Species {
  std::string_view name;                     // "black cherry"
  std::array<std::string_view, 4> also;      // other accepted names, empty at the end
  std::optional<Figure> density;             // kg/m3 at 12 % moisture content
  std::optional<Figure> radial, tangential;  // change of size per 1 % of moisture content, as a fraction; 6 to 14 %
  std::optional<Figure> hardness;            // N, side hardness at 12 % (ball of 11.28 mm pressed in by half)
  std::string_view caution;                  // besides dust_caution; may be empty
};

//   returns  all species, by name
//   source   Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010) and FPL-GTR-282 (2021): density and
//            hardness Tables 5-3 and 5-5, coefficients Table 13-5; tangential coefficients of teak, purpleheart,
//            padauk, wenge and hickory from tables that cite Agriculture Handbook 72 (1987); `memory` figures from
//            memory
std::span<const Species> all_species();

// Finds by name or other name; capitals, and spaces at the ends or doubled, do not matter.
//   returns  never null
//   errors   unknown_wood (says the nearest names, or how many there are)
Result<const Species*> find_species(std::string_view name);

// What holds for the dust of every wood, with the limits that are published for it.
//   source   OSHA and NIOSH pocket guide entry "wood dust"; HSE, wood dust exposure limits
std::string_view dust_caution();

}  // namespace stickwright
