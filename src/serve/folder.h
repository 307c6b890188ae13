// folder.h - the one folder that the workbench reads and writes, and nothing outside of it.
#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "quantity/result.h"

namespace stickwright {

class Folder {
 public:
  //   errors   no_file: it is no folder
  static Result<Folder> open(const std::filesystem::path& root);

  const std::filesystem::path& root() const { return root_; }  // absolute, links resolved

  // The place of a file named relative to the folder, as "spring/batch.toml". It need not be there yet.
  //   errors   outside_folder: absolute, with "." or "..", hidden, or by a link that leads out or nowhere;
  //            bad_name: empty, longer than kLongestName, not one line of UTF-8
  Result<std::filesystem::path> place_of(const std::string& name) const;
  // The same for a file that has to be there.   errors   also no_file
  Result<std::filesystem::path> file(const std::string& name) const;
  // The contents of a text file.   errors   those of file(); not_text (no UTF-8, or larger than kMaxTomlBytes)
  Result<std::string> read(const std::string& name) const;
  // Relative, with "/"; of a path outside, as it is.
  std::string name_of(const std::filesystem::path& place) const;
  // The problem with its place named relative to the folder.
  Problem shown(Problem problem) const;
  // Links followed, does this lie in the folder?
  bool holds(const std::filesystem::path& place) const;

  // Names of all *.toml files in it, sorted; what is hidden, links to folders, links that lead out, and what lies
  // deeper than six folders are skipped. Of a folder with more than kMostLookedAt entries, those of the first so many.
  std::vector<std::string> toml_files() const;

  // Changes whenever one of the files, or of the ledgers if asked for, is written, comes or goes.
  //   exact    by path, time (ns), size and place on the disk, not by content
  std::string fingerprint(bool with_ledgers) const;

 private:
  explicit Folder(std::filesystem::path root) : root_(std::move(root)) {}
  std::filesystem::path root_;
};

inline constexpr std::size_t kLongestName = 200, kMostLookedAt = 20'000;

// A short name for the contents of a file: to see whether somebody else has changed it since.
std::string version_of(const std::string& contents);

}  // namespace stickwright
