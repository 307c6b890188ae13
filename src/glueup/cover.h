// cover.h - all ways to split a piece into the fewest blocks.
#pragma once
#include <functional>
#include <vector>

#include "family/family.h"
#include "quantity/result.h"

namespace stickwright {

// Calls `take` with every exact cover of the piece by the fewest blocks.
//   returns  found when all such covers were given; stopped when `most_covers` or `most_nodes` was reached (at least
//   one
//            cover was given all the same)
//   exact    one block more is allowed only after all covers with fewer have been ruled out
Verdict fewest_block_covers(const Cells& piece, std::int64_t most_covers, std::int64_t most_nodes,
                            const std::function<void(std::vector<Cells>)>& take);

}  // namespace stickwright
