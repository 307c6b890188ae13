// falls.h - what drops first when some pieces are held.
#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "quantity/result.h"
#include "takeapart/first_motion.h"

namespace stickwright {

struct Falls {
  Verdict verdict = Verdict::stopped;  // found: these pieces fall; none_exists: everything rests
  std::vector<int> pieces;             // ascending
  Motion motion;                       // when found; held pieces stay
  std::vector<std::int64_t> force;     // when faces alone hold everything up: one for each face contact, >= 0, in units
  std::int64_t unit = 1;               // of weight * down / unit. Empty when edges must help
};

// Which pieces start to fall when the others are held: of all sliding motions, no piece faster than 1 along an axis,
// one that loses the most height times weight.
//   held      these stay where they are; when empty everything falls
//   down      any length
//   weight    one a piece, >= 0; empty: all alike
//   assumes   no friction: what rests here rests; what falls here may be kept up by friction in wood. No turning: a
//             piece that would only tip over counts as resting
//   exact     the motion, and the forces that hold everything up, are checked in whole numbers; stopped when the
//             floating-point answer could not be rounded to either
Falls falls(const Touching& touching, const std::vector<int>& held, Vec down,
            std::span<const std::int64_t> weight = {});

}  // namespace stickwright
