// gluing.h - building a piece from blocks: where a block can sit when it is glued to a face of another.
#pragma once
#include <optional>
#include <string_view>
#include <vector>

#include "family/family.h"

namespace stickwright {

// A face is named by its outward normal: "+x+y", "-y+z". A block is convex, so it has at most one of each.
std::optional<Vec> face_normal(std::string_view name);

// All ways to glue a block of this shape onto the face of `base` with that normal: face on face, the smaller one lying
// wholly on the larger, no cell shared with `taken`. Sorted by cells.
std::vector<Cells> ways_to_glue(const Cells& shape, const Cells& base, Vec normal, const Cells& taken);

}  // namespace stickwright
