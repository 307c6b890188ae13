// files.h - writes files whole: a reader sees the old content or the new, never a part, even when work is interrupted.
#pragma once
#include <filesystem>
#include <string_view>

#include "quantity/result.h"

namespace stickwright {

struct Done {};  // the value of a Result that has nothing to tell

// Writes beside the file, flushes to the disk, then takes the file's place in one step. Makes the folder if needed.
// A file that was there keeps its permissions; a link is followed, not replaced.
//   errors   cannot_write (says which folder or file and why); the file is then as it was
Result<Done> write_file(const std::filesystem::path& path, std::string_view content);

// Makes a folder and those above it; nothing to do when it is there.   errors  cannot_write
Result<Done> make_folder(const std::filesystem::path& path);

}  // namespace stickwright
