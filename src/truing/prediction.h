// prediction.h - what a test block should measure on this saw, how well that is known, and from what.
#pragma once
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "metrology/budget.h"
#include "metrology/sampling.h"
#include "saw/sensitivity.h"

namespace stickwright {

// The part of a stop's error that is another one each time the stop is set: its name among the parts (predict).
inline constexpr const char* kPushedHome = "stop pushed home";

// What is measured: the distance across two faces of what a program leaves.
struct Across {
  Program program;  // of the block or its stand-in
  int face_a = 0, face_b = 0;
  int stop = 0;  // of the program: the one that is proved
  Workplace place;
};

// One number of the state as it enters the distance.
struct Influence {
  Parameter parameter;
  Estimate known;
  Slope slope;  // mm per unit
  // How far, one standard deviation, it may take the distance from what the best values give. At a kink the distance
  // may go one way whichever way the number goes; then the mean slope, which a budget knows, says too little.
  double reach() const { return std::sqrt((slope.up * slope.up + slope.down * slope.down) / 2) * known.u; }
};

struct Prediction {
  Mm nominal;                           // on a true saw
  std::vector<Influence> influences;    // those that move the distance, in the order of the state
  std::vector<BudgetInput> stop_parts;  // what the stop's error is made of; sensitivity: mm along the axis
  std::string stop_name;                // of the stop that is proved, among the numbers of the state
  double per_stop = 0;                  // mm per mm
  double per_miter = 0;                 // mm per radian
  Budget budget;                        // of one reading: state, stop and the reading itself
  bool bends = false;                   // some influence has a kink: the budget does not see all of it
  std::optional<Sampled> sampled;       // by drawing whole saws, where the model bends or when asked for
  std::optional<Comparison> compared;
  Estimate reading;
  // Of saws like this one, on the average. Where the model is straight that is what the best values give; at a kink the
  // distance goes one way whichever way the saw is off.
  Mm expected() const { return Mm{bends && sampled ? sampled->value : budget.value}; }
  double stop_known() const;  // the stop's error that is known beforehand: its stack's, mm along the axis
  double u() const { return sampled ? sampled->u : budget.u; }
};

enum class Draw { where_it_bends, always, never };

// Propagates what is known of the saw through the forward model.
//   stop_parts  of the stop that is proved: sensitivity times input, summed, is its error in mm along the axis. They
//               take the place of state.stop_error_mm of that stop, which must hold their sum.
//   reading     value 0; u of one reading
//   returns     the budget to first order with the mean of both slopes at a kink; where the model bends the sampling as
//               well, over whole saws, each run through the forward model
//   assumes     independent inputs
//   source      JCGM 100:2008, 5.1.2; JCGM 101:2008
Prediction predict(const Across& across, const ShopState& state, const std::vector<BudgetInput>& stop_parts,
                   const Estimate& reading, Draw draw = Draw::where_it_bends);

}  // namespace stickwright
