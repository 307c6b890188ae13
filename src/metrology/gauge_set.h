// gauge_set.h - which gauge blocks the shop owns, and how far each may be from its nominal size.
#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/quantity.h"
#include "quantity/result.h"

namespace stickwright {

struct GaugeBlock {
  Nm size;        // that sums are made of: nominal, or as measured where the block is worn
  Nm tolerance;   // the length may deviate by this much to either side
  Nm engraved{};  // what is written on a worn block; 0 where that is the size
  friend bool operator==(const GaugeBlock&, const GaugeBlock&) = default;
};

// The blocks in the order of the box. Two blocks may have one size.
struct GaugeSet {
  std::string name;
  std::string grade;
  std::vector<GaugeBlock> blocks;
};

inline constexpr std::size_t kMostGaugeBlocks = 128;  // in one set

enum class GaugeSystem { metric, inch };

// "mm 47 (a)", "inch 81", ...: the sets that standard_gauge_set knows, metric first, small to large.
std::vector<std::string_view> gauge_set_names();

// "K", "0", "1", "2" for metric blocks; "0", "AS-1", "AS-2" for inch blocks.
std::vector<std::string_view> gauge_grades(GaugeSystem system);

// The length deviation permitted to a block of this size and grade.
//   returns  nm; microinches are rounded to the nearest nanometer
//   errors   unknown_grade; bad_block_size (not > 0, or longer than the table: 250 mm, 4 in)
//   assumes  an inch size between two rows of the table takes the larger row
//   source   metric: ISO 3650:1998, grades 0, 1, 2 as printed in the DIN 861 table; grade K from memory.
//            inch: ASME B89.1.9-2002, from memory
Result<Nm> gauge_tolerance(Nm size, std::string_view grade, GaugeSystem system);

// A set as it is sold.
//   errors   unknown_gauge_set, unknown_grade (each says what there is)
//   source   trade lists. inch 81 as printed in a published selection guide; the others from memory, their counts
//   checked
Result<GaugeSet> standard_gauge_set(std::string_view name, std::string_view grade);

// A set of the shop's own, in the order given.
//   sizes    nm each, > 0; 1..128 of them; a size may be given twice
//   errors   empty_set, too_many_blocks, bad_block_size, unknown_grade
Result<GaugeSet> custom_gauge_set(std::span<const Nm> sizes, std::string_view grade,
                                  GaugeSystem system = GaugeSystem::metric);

// "58.345 mm (2.29705 in)"; below a tenth of a millimeter "1.5 um (59.06 uin)". Every nanometer is shown.
std::string show_nominal(Nm size);

// The set without the blocks that are lost or worn out; a size given twice takes away two blocks.
//   errors   no_such_block (says the nearest sizes that are there); empty_set when nothing would be left
Result<GaugeSet> without(const GaugeSet& set, std::span<const Nm> missing);

// A block whose length the shop has measured.
struct WornBlock {
  Nm engraved;
  Nm is;
  Nm give_or_take;  // the measured length may be off by this much to either side, >= 0
};
inline constexpr Nm kMostWear{50'000};  // 0.05 mm; a block that is further off is a slip of the pen
// How well a shop measures a block with a micrometer. Common practice, no source.
inline constexpr Nm kMeasuredBlock{1'000};

// The set with the lengths that worn blocks have: everything that is summed, checked and promised from now on takes the
// measured length for the size and what the measurement may be off for the tolerance.
//   errors   no_such_block; bad_worn_block (further from its engraving than kMostWear, or give_or_take < 0)
Result<GaugeSet> with_worn(const GaugeSet& set, std::span<const WornBlock> worn);

// What is written on the block.
Nm engraved(const GaugeBlock& block);

// The set as if no block were worn.
GaugeSet as_engraved(const GaugeSet& set);

}  // namespace stickwright
