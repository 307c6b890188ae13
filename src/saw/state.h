// state.h - the true state of a saw, its jig and its sticks: everything that decides what a cut really gives.
//
// One type, three kinds of number: StateOf<double> is one saw (nominal, or one drawn from what is known), StateOf<Dual>
// one saw and a direction in which it changes, StateOf<Estimate> what is known of it: value, standard uncertainty and
// source of every part.
#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "quantity/estimate.h"
#include "quantity/quantity.h"
#include "saw/dual.h"

namespace stickwright {

// A V cradle. How it yields: by how much a clamp that presses harder by one newton turns the stick.
template <class T>
struct CradleOf {
  T roll_rad{};                  // the V turned about the stick's axis
  T pitch_rad{};                 // the V's far end raised
  T yaw_per_n{}, pitch_per_n{};  // about the vertical: reads like a miter error; far end raised
};

template <class T>
struct StickOf {
  T side_1_mm{}, side_2_mm{};    // as milled: across the faces towards (+a,+b) and (+a,-b)
  T corner_error_rad{};          // how much the corners up and down are wider than a right angle
  T moisture_change{};           // percent moisture content gained since milling
  T movement_1{}, movement_2{};  // share of the width per percent moisture content
};

template <class T>
struct StateOf {
  double planned_mm = 16;  // side of the stick that the stops are set for
  T miter_error_rad{};     // blade normal turned about the vertical: (sin, cos)(45 deg + e) in (a, t)
  T blade_tilt_rad{};      // blade normal turned towards the vertical
  std::vector<CradleOf<T>> cradles = {{}};
  std::vector<StickOf<T>> sticks = {{}};
  T kerf_mm{};                   // taken out beyond what is kept: tells how much stick is used up, moves no face
  T run_out_mm{};                // the rim reaches further to each side than when the stops were set
  std::vector<T> stop_error_mm;  // by stop of the program; missing ones are 0. Positive: too far from the blade
  std::vector<T> seating_mm;     // by cut; missing ones are 0. Positive: the work stands off the stop (a chip, a burr)
  T clamp_change_n{};            // the clamp presses harder than it did when the miter was trued
  T gauge_temperature_c{};       // of gauge blocks, stops and cradle when the stops were set
  T cradle_warmer_k{};           // cradle, sled and stops at the cut, than they were then
  T gauge_expansion{}, sled_expansion{}, stop_expansion{};  // per kelvin
  T back_to_blade_mm{};  // length of sled between back stop and blade, along the stick's axis
  // By stop of the program: the gauge blocks that stay behind a square stop. Missing ones are 0; a mitered stop's are
  // taken away. A plan, like planned_mm, and no error: what the stack is off belongs to stop_error_mm.
  std::vector<double> stack_behind_mm;
};
using SawState = StateOf<double>;
using ShopState = StateOf<Estimate>;

// Which of the state's cradles and sticks a block is made with.
struct Workplace {
  std::size_t cradle = 0, stick = 0;
};

// All errors 0, all at 20 degrees Celsius (ISO 1), sticks of one size.
SawState nominal_saw(Mm stick);

// One number of the state: what it is called, in which unit it stands, and how far it would have to change to move a
// face by about a millimeter.
struct Parameter {
  std::string name, unit;
  double scale = 1;
};

// The numbers of a state, in a fixed order: the vectors as long as they are in this state.
std::vector<Parameter> parameters_of(const SawState& state);
std::vector<Parameter> parameters_of(const ShopState& state);
template <class T>
std::vector<T*> numbers_of(StateOf<T>& state);  // parallel to parameters_of

SawState best_values(const ShopState& state);

// The same saw in dual numbers: nothing changes; or the k-th number alone does, with this derivative.
StateOf<Dual> standing_still(const SawState& state);
StateOf<Dual> moving(const SawState& state, std::size_t k, double slope);

}  // namespace stickwright
