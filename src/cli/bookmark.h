// bookmark.h - where a long search was stopped, so that another run goes on from there.
#pragma once
#include <cstdint>
#include <filesystem>
#include <string>

#include "assembly/assembly.h"
#include "quantity/result.h"
#include "text/files.h"

namespace stickwright {

struct Bookmark {
  std::string of;  // fingerprint of the design and of what is counted
  std::size_t branches_done = 0, branches = 0;
  std::int64_t count = 0, total = 0;  // found in those branches
};

// The same for designs that pose the same search.
std::string fingerprint(const Design& design, UpTo up_to);

// returns  an empty bookmark when there is no such file; a problem when it belongs to another search or is damaged
Result<Bookmark> read_bookmark(const std::filesystem::path& file, const std::string& of);
Result<Done> write_bookmark(const std::filesystem::path& file, const Bookmark& bookmark);

}  // namespace stickwright
