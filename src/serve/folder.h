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

  // The place of a file named relative to the folder, as "spring/batch.toml".
  //   errors   outside_folder: absolute, with "..", hidden, or by a link that leads out; bad_name
  Result<std::filesystem::path> place_of(const std::string& name) const;
  // The same for a file that has to be there.   errors   also no_file
  Result<std::filesystem::path> file(const std::string& name) const;
  std::string name_of(const std::filesystem::path& place) const;  // relative, with "/"

  // Names of all *.toml files in it, sorted; hidden folders and links that lead out are skipped, and what lies deeper
  // than six folders.
  std::vector<std::string> toml_files() const;

  // Changes whenever one of the files, or of the ledgers if asked for, is written, comes or goes.
  std::string fingerprint(bool with_ledgers) const;

 private:
  explicit Folder(std::filesystem::path root) : root_(std::move(root)) {}
  std::filesystem::path root_;
};

// A short name for the contents of a file: to see whether somebody else has changed it since.
std::string version_of(const std::string& contents);

}  // namespace stickwright
