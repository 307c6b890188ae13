#include "serve/folder.h"

#include <fmt/core.h>
#include <sys/stat.h>

#include <algorithm>
#include <fstream>
#include <optional>
#include <string_view>
#include <system_error>

#include "text/short_hash.h"
#include "text/toml_reader.h"
#include "text/utf8.h"

namespace stickwright {
namespace {

namespace fs = std::filesystem;

constexpr int kDeepest = 6;

Problem outside_folder(const std::string& name) {
  return {
      "outside_folder", name,
      "only files in the folder that is served can be read and written: expected a name like \"spring/batch.toml\", "
      "with no \"..\", nothing hidden, and no link that leads out",
      ""};
}

bool is_plain(const fs::path& path) {
  return std::none_of(path.begin(), path.end(), [](const fs::path& part) {
    const std::string text = part.string();
    return text.empty() || text.front() == '.';
  });
}

bool is_within(const fs::path& place, const fs::path& root) {
  return std::mismatch(root.begin(), root.end(), place.begin(), place.end()).first == root.end();
}

// The place with all links followed, of which the last part need not be there. Nothing when a link leads nowhere yet:
// who writes through it would make a file wherever it points.
std::optional<fs::path> without_links(const fs::path& path) {
  std::error_code error;
  const fs::path place = fs::weakly_canonical(path, error);
  if (error) return std::nullopt;
  fs::path so_far;
  for (const fs::path& part : place) {
    so_far /= part;
    if (fs::is_symlink(so_far, error)) return std::nullopt;
  }
  return place;
}

bool is_ledger(std::string_view name) {
  return name.ends_with(".ledger") || name.ends_with(".ledger-wal");
}

// What changes when a file is written, whichever way.
void add_state(ShortHash& hash, const fs::path& file, const std::string& name) {
  struct stat now = {};
  if (::stat(file.c_str(), &now) != 0) return;
  // The log of a ledger appears, empty, when the ledger is only read.
  if (now.st_size == 0 && name.ends_with("-wal")) return;
  hash.add(name);
  hash.add(std::int64_t{0});
  for (const std::int64_t v : {std::int64_t{now.st_mtim.tv_sec}, std::int64_t{now.st_mtim.tv_nsec},
                               std::int64_t{now.st_size}, static_cast<std::int64_t>(now.st_ino)})
    hash.add(v);
}

// Walks a folder without ever leaving it.
class Walk {
 public:
  explicit Walk(const Folder& folder) : folder_(folder) {}

  std::vector<std::string> names(bool ledgers) {
    look(folder_.root(), 0, ledgers);
    std::sort(found_.begin(), found_.end());
    return std::move(found_);
  }

 private:
  void look(const fs::path& at, int depth, bool ledgers) {
    std::error_code error;
    auto entry = fs::directory_iterator(at, fs::directory_options::skip_permission_denied, error);
    for (; !error && entry != fs::directory_iterator{}; entry.increment(error)) {
      if (++looked_at_ > kMostLookedAt) return;
      const std::string name = entry->path().filename().string();
      if (name.front() == '.' || !is_one_line(name)) continue;
      std::error_code gone;  // a file may vanish while we look
      if (entry->is_directory(gone) && !entry->is_symlink(gone)) {
        if (depth < kDeepest) look(entry->path(), depth + 1, ledgers);
      } else if (name.ends_with(".toml") || (ledgers && is_ledger(name))) {
        if (entry->is_regular_file(gone) && (!entry->is_symlink(gone) || folder_.holds(entry->path())))
          found_.push_back(folder_.name_of(entry->path()));
      }
    }
  }

  const Folder& folder_;
  std::size_t looked_at_ = 0;
  std::vector<std::string> found_;
};

}  // namespace

Result<Folder> Folder::open(const fs::path& root) {
  std::error_code error;
  const fs::path place = fs::canonical(root, error);
  if (error || !fs::is_directory(place, error))
    return Problem{"no_file", root.string(),
                   "there is no such folder: expected one that holds design, shop and batch files", ""};
  return Folder(place);
}

Result<fs::path> Folder::place_of(const std::string& name) const {
  if (name.empty() || name.size() > kLongestName || !is_one_line(name))
    return Problem{"bad_name", "",
                   fmt::format("expected the name of a file: one line of text, at most {} bytes", kLongestName), ""};
  const fs::path path = name;
  if (path.is_absolute() || !is_plain(path)) return outside_folder(name);
  const auto place = without_links(root_ / path);
  // A link to what is hidden would get past the rule, too.
  if (!place || !is_within(*place, root_) || !is_plain(place->lexically_relative(root_))) return outside_folder(name);
  return *place;
}

Result<fs::path> Folder::file(const std::string& name) const {
  auto place = place_of(name);
  if (!place) return place.problem();
  std::error_code error;
  if (!fs::is_regular_file(place.value(), error))
    return Problem{"no_file", name, "there is no such file in the folder; perhaps it was moved or renamed", ""};
  return place;
}

Result<std::string> Folder::read(const std::string& name) const {
  const auto place = file(name);
  if (!place) return place.problem();
  std::ifstream in(place.value(), std::ios::binary);
  if (!in) return Problem{"no_file", name, "this file cannot be read: look at its permissions", ""};
  std::string text(kMaxTomlBytes + 1, '\0');
  in.read(text.data(), static_cast<std::streamsize>(text.size()));
  text.resize(static_cast<std::size_t>(in.gcount()));
  if (text.size() > kMaxTomlBytes || first_not_utf8(text))
    return Problem{"not_text", name, "this is no text file in UTF-8, or it is too large", ""};
  return text;
}

std::string Folder::name_of(const fs::path& place) const {
  return is_within(place, root_) ? place.lexically_relative(root_).generic_string() : place.generic_string();
}

Problem Folder::shown(Problem problem) const {
  const std::string head = root_.string() + "/";
  if (problem.where.starts_with(head)) problem.where.erase(0, head.size());
  return problem;
}

bool Folder::holds(const fs::path& place) const {
  const auto found = without_links(place);
  return found && is_within(*found, root_);
}

std::vector<std::string> Folder::toml_files() const {
  return Walk(*this).names(false);
}

std::string Folder::fingerprint(bool with_ledgers) const {
  ShortHash hash;
  for (const std::string& name : Walk(*this).names(with_ledgers)) add_state(hash, root_ / name, name);
  return hash.text();
}

std::string version_of(const std::string& contents) {
  ShortHash hash;
  hash.add(contents);
  return hash.text();
}

}  // namespace stickwright
