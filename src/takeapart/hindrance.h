// hindrance.h - do sliding pieces run into each other at the first instant? The rule of touching(), applied.
#pragma once
#include "takeapart/contacts.h"
#include "takeapart/first_motion.h"

namespace stickwright {

// The first edge contact that the motion runs into, or null.
const EdgeContact* hindering_edge(const Touching& touching, const Motion& motion);

}  // namespace stickwright
