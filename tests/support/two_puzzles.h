// two_puzzles.h - a batch of two designs that share a wood, small enough to be planned at once.
#pragma once
#include "support/scratch.h"

namespace stickwright {

// Two stars of three woods and one copy of the second design, of one of them; a star should have 0.04 mm of play.
//   returns  the batch file, beside its shop and its designs
inline std::string two_puzzles(const Scratch& s) {
  const std::string from = STICKWRIGHT_SOURCE "/examples/wrenfield/";
  for (const char* file : {"shop.toml", "star.toml", "second.toml"}) s.write(file, slurp(from + file));
  return s.write("batch.toml",
                 "format = 1\nname = \"two\"\nshop = \"shop.toml\"\nstick = \"16 mm\"\nstart = 2031-01-28\n"
                 "due = 2031-04-05\nspares = \"8 %\"\nspares_at_least = 2\ntolerance = \"0.05 mm\"\n"
                 "[[puzzle]]\ndesign = \"star.toml\"\ncopies = 2\n"
                 "woods = { arm = [\"black cherry\", \"black cherry\", \"sugar maple\", \"sugar maple\", \"walnut\", "
                 "\"walnut\"] }\n"
                 "[[puzzle]]\ndesign = \"second.toml\"\ncopies = 1\nwoods = { \"*\" = \"black cherry\" }\n"
                 "[fit]\nplay = \"0.04 mm\"\nleast_play = \"0 mm\"\nmost_play = \"0.10 mm\"\nsamples = 6000\n");
}

}  // namespace stickwright
