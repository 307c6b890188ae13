// nearest.h - "did you mean": the known names most like a mistyped one.
#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace stickwright {

// The least number of letters put in, left out, changed or swapped with a neighbor that turns `a` into `b`.
//   edit_distance(a, b) == edit_distance(b, a)     0 only when a == b
//   source   L. Boytsov, "Indexing methods for approximate dictionary searching" (2011): optimal string alignment
int edit_distance(std::string_view a, std::string_view b);

// The known names near `word`, capitals aside, nearest first and at most `most`; of equals the first in order.
// Near is within a third of the word's letters, or one of the two being a part of the other.
std::vector<std::string> nearest_names(std::string_view word, std::span<const std::string> known, std::size_t most = 3);

// " (did you mean "kerf"?)" or "".
std::string did_you_mean(std::string_view word, std::span<const std::string> known);

// "a", "b" and "c"; `last` is the word before the last one.
std::string quoted_list(std::span<const std::string> names, std::string_view last = "or");

}  // namespace stickwright
