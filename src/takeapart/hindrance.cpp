#include "takeapart/hindrance.h"

#include <algorithm>

#include "takeapart/motion_rows.h"

namespace stickwright {

const EdgeContact* hindering_edge(const Touching& touching, const Motion& motion) {
  for (const EdgeContact& e : touching.edges) {
    const Vec v = motion.slide[e.to] - motion.slide[e.from];
    const auto runs_in = [&](Vec n) { return Wide{n.x} * v.x + Wide{n.y} * v.y + Wide{n.z} * v.z < 0; };
    if (std::all_of(e.normals.begin(), e.normals.end(), runs_in)) return &e;
  }
  return nullptr;
}

}  // namespace stickwright
