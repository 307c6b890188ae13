// coordinated.h - motions in which more than two groups of pieces must go their own ways at once.
#pragma once
#include <cstdint>
#include <vector>

#include "quantity/result.h"
#include "takeapart/first_motion.h"

namespace stickwright {

struct RayLimits {
  int columns = 36;           // of freedom: three a piece, less three, less the slides that keep all contacts
  std::size_t rays = 10'000;  // kept at once
};

// All sliding motions that the faces allow are sums of a few: the extreme rays of their cone and the slides that keep
// all contacts. A ray that two hands cannot do is a motion in which several groups must start together; so is a slide
// that keeps all contacts, such as of two bars that push each other around a corner and back. If there is neither,
// whatever starts is a sum of what two hands could do, were there no edges in the way.
struct CoordinatedMotions {
  Verdict verdict = Verdict::stopped;  // found; none_exists; stopped at a limit: whether there is one is not known
  std::vector<Motion> motions;         // the rays that two hands cannot do and no edge hinders; piece 0 stays. If
                                       // one slide keeps all contacts: that one, too, to and fro
  std::size_t rays = 0;                // of the cone, all together
  int slides = 0;                      // dimension of the slides that keep all contacts; rays are counted up to these
};

// The extreme rays by the double description method, in whole numbers.
//   exact    a number too large for 62 bits counts as a limit
//   source   T. S. Motzkin, H. Raiffa, G. L. Thompson and R. M. Thrall, "The double description method" (1953);
//            K. Fukuda and A. Prodon, "Double description method revisited" (1996)
CoordinatedMotions coordinated_motions(const Family& family, const Touching& touching, const RayLimits& limits = {});

}  // namespace stickwright
