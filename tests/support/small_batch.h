// small_batch.h - a batch of one design, so that the program starts quickly.
#pragma once
#include "support/scratch.h"

namespace stickwright {

// Its first set-up is the rhombic pyramid block, its second the squat octahedron; sticks of 16 mm, +- 0.05 mm.
//   returns  the batch file, beside its shop and its design
inline std::string small_batch(const Scratch& s) {
  const std::string from = STICKWRIGHT_SOURCE "/examples/wrenfield/";
  for (const char* file : {"shop.toml", "star.toml"}) s.write(file, slurp(from + file));
  return s.write("batch.toml",
                 "format = 1\nname = \"small\"\nshop = \"shop.toml\"\nstick = \"16 mm\"\nstart = 2031-01-28\n"
                 "due = 2031-04-05\nspares = \"8 %\"\nspares_at_least = 2\ntolerance = \"0.05 mm\"\n"
                 "[[puzzle]]\ndesign = \"star.toml\"\ncopies = 1\nwoods = { \"*\" = \"walnut\" }\n");
}

}  // namespace stickwright
