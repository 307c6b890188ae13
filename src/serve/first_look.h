// first_look.h - what a short search tells of a design: enough to show it, within a second or two. Private to this
// room.
#pragma once
#include <chrono>
#include <optional>

#include "batch/design_plan.h"
#include "glueup/glueup.h"

namespace stickwright {

struct FirstLook {
  DesignPlan plan;
  std::optional<Split> split;  // of plan.made; nothing: the pieces are not glued from blocks
};

// How long each part may take.
struct LookTimes {
  std::chrono::milliseconds assemblies{700};
  std::chrono::milliseconds in_all{1400};  // assemblies and taking apart
};

// Searches until the time is over; one assembly that comes apart is enough.
//   returns  a plan that says `stopped` where the time did not suffice: that is neither yes nor no
FirstLook first_look(Design design, const LookTimes& times = {});

// Of a plan that was made elsewhere.
FirstLook with_split(DesignPlan plan);

// Nothing was found and nothing is proven: the time was too short.
bool nothing_yet(const DesignPlan& plan);

// All supplied pieces lying apart from one another in rows, for a design of which no assembly is known. At most
// kMostLaidOut of them, one of each kind first.
inline constexpr std::size_t kMostLaidOut = 64;
std::vector<StandingPiece> laid_side_by_side(const DesignPlan& plan);

}  // namespace stickwright
