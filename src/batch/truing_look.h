// truing_look.h - how well this shop trues its saw with eye, square and indicator, which leaf a reading calls for, and
// what a trued miter makes of a stop's shim table.
#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "batch/plan.h"
#include "truing/align.h"

namespace stickwright {

// A look at the saw that tells one of its errors.
struct TruingLook {
  Look look = Look::point;
  Error tells = Error::miter;
  Mm over;                  // arm, length, or distance of the two places
  Mm u;                     // standard uncertainty of the reading itself
  std::optional<Mm> lever;  // over which a leaf turns what is off; nothing when the shop file does not say
  double u_rad = 0;         // standard uncertainty of the error, the square's own in it
  double rad_per_mm = 0;    // error for each mm of reading
  // A reading that is smaller tells an error no larger than what it is known by.
  Mm leave_below() const { return Mm{u_rad / rad_per_mm}; }
};

// Point and blade with the shop's square (else an arm of 60 mm), flanks and bar with an indicator.
//   look     point, blade, flanks or bar
//   assumes  the eye sees light from 0.005 mm, an indicator reads to 0.01 mm: common practice, no source
//   source   docs/derivations/true-cuts.md; the uncertainty is that of align
TruingLook truing_look(const Shop& shop, Mm stick, Look look);

// The leaf for each reading up to a leaf of half a millimeter; in coarser steps where there would be too many rows.
//   returns  nothing without a lever or leaves
std::vector<LeafRow> leaves_for(const TruingLook& look, const Shop& shop, std::size_t most_rows);

// The standard uncertainty, in radians, of the miter from one truing block and the stick's sides by the shop's caliper.
double u_of_truing_block(const Shop& shop, Mm stick);

// TestPlan::shim_table as it is once the miter has been trued with one look over the point, for the same readings.
std::vector<ShimRow> trued_shim_table(const BatchPlan& plan, const SetUp& set_up, std::size_t stop);

}  // namespace stickwright
