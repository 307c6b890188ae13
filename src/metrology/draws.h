// draws.h - possible values of an estimate, drawn at random, the same ones on every run.
#pragma once
#include <cstdint>
#include <random>

#include "quantity/estimate.h"

namespace stickwright {

// Numbers at random. The engine's sequence is fixed by the C++ standard; what is made of it is ours, because the
// library's own distributions differ from one library to the next.
class Draws {
 public:
  // Different pairs give sequences that have nothing to do with each other.
  Draws(std::uint64_t seed, std::uint64_t block);

  double uniform();                // above 0 and below 1
  double normal();                 // mean 0, standard deviation 1
  double student(double freedom);  // Student's t; freedom > 0, need not be whole

  // One possible value.
  //   normal, endless freedom   value + u z
  //   normal, otherwise         value + u t with its degrees of freedom (JCGM 101:2008, 6.4.9)
  //   other spreads             within the half-width; where the freedom has an end, the half-width itself is drawn
  //   first,
  //                             evenly between a (1 - d) and a (1 + d) with d = 1 / sqrt(2 freedom), at most 1: bounds
  //                             that are known inexactly (JCGM 101:2008, 6.4.3; the share d by JCGM 100:2008, G.4.2)
  double of(const Estimate& e);

 private:
  struct InDisk {
    double x, square;  // one coordinate, and the square of the distance from the center, > 0
  };
  InDisk in_disk();
  double half_width_of(const Estimate& e);

  std::mt19937_64 engine_;
};

}  // namespace stickwright
