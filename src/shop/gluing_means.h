// gluing_means.h - what the files say of gluing and fitting, and of the home that a puzzle goes to. All of it is
// optional; what is not said is left to the defaults of whoever asks.
#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <string>

#include "quantity/quantity.h"
#include "text/source.h"
#include "wood/season.h"

namespace stickwright {

// Shop file, [glue]: what a joint adds to a piece, and how far off a block comes to sit.
struct GlueMeans {
  std::optional<Mm> line;         // thickness of a glue line
  std::optional<Mm> line_spread;  // 1 sigma of it, from joint to joint
  std::optional<Mm> slip;         // 1 sigma: off in the plane of the joint, in each direction, placed by hand
  std::optional<Mm> slip_in_jig;  // the same where a plate of the glue jig holds a face
  Place at;
};

// Shop file, [fit]: what hands and sandpaper forgive.
struct FitMeans {
  std::optional<Mm> hand_gives;  // an interference that hands press shut
  std::optional<Mm> eased;       // taken off the sharp edges of every piece
  Place at;
};

// Batch file, [fit]: how the closed puzzle should sit.
struct FitAsked {
  std::optional<Mm> play;                   // wanted
  std::optional<Mm> least_play, most_play;  // least <= play <= most, of those that are given
  std::optional<double> chance;             // share of the puzzles that should close
  std::optional<std::int64_t> samples;      // puzzles drawn to find out
  Place at;
};

// Batch file, [customer]: the air that the puzzle will stand in.
struct Customer {
  std::string place;                  // in the maker's words; may be empty
  std::array<MonthAir, 12> air;       // January to December
  std::optional<double> finish_days;  // time constant by which the finish slows the wood's taking up of moisture
  Place at;
};

}  // namespace stickwright
