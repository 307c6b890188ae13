#include "cli/bookmark.h"

#include <fstream>
#include <nlohmann/json.hpp>

#include "text/short_hash.h"

namespace stickwright {
namespace {

// A damaged or foreign file must not be taken for a search that is half done.
Problem not_this_search(const std::filesystem::path& file) {
  return {"wrong_bookmark", file.string(),
          "this is no bookmark of the search that is asked for: expected one that was written for this design as it is "
          "now, counted the same way. Name another file, or remove it to begin afresh.",
          ""};
}

void add(ShortHash& hash, const Cells& cells) {
  hash.add(static_cast<std::int64_t>(cells.size()));
  for (Cell c : cells) hash.add(c.x), hash.add(c.y), hash.add(c.z);
}

}  // namespace

std::string fingerprint(const Design& design, UpTo up_to) {
  ShortHash hash;
  for (char c : design.family->name()) hash.add(std::int64_t{c});
  hash.add(static_cast<std::int64_t>(up_to));
  hash.add(std::int64_t{design.pieces_used.value_or(0)});
  add(hash, design.goal);
  add(hash, design.may_stay_empty);
  for (const Supply& s : supplies_of(design))
    add(hash, s.shape.cells), hash.add(std::int64_t{s.count}), hash.add(std::int64_t{s.at_least});
  return hash.text();
}

Result<Bookmark> read_bookmark(const std::filesystem::path& file, const std::string& of) {
  if (!std::filesystem::exists(file)) return Bookmark{of, 0, 0, 0, 0};
  if (!std::filesystem::is_regular_file(file)) return not_this_search(file);
  std::ifstream in(file);
  const auto j = nlohmann::json::parse(in, nullptr, false);
  const auto number = [&](const char* key) -> std::int64_t {
    return j.is_object() && j.contains(key) && j[key].is_number_integer() ? j[key].get<std::int64_t>() : -1;
  };
  Bookmark b{of, static_cast<std::size_t>(number("branches_done")), static_cast<std::size_t>(number("branches")),
             number("count"), number("total")};
  const bool sound = j.is_object() && j.value("search", nlohmann::json()) == of && number("branches_done") >= 0 &&
                     number("branches") >= number("branches_done") && b.count >= 0 && b.total >= b.count;
  if (!sound) return not_this_search(file);
  return b;
}

Result<Done> write_bookmark(const std::filesystem::path& file, const Bookmark& b) {
  const nlohmann::ordered_json j = {{"search", b.of},
                                    {"branches_done", b.branches_done},
                                    {"branches", b.branches},
                                    {"count", b.count},
                                    {"total", b.total}};
  return write_file(file, j.dump(2) + "\n");
}

}  // namespace stickwright
