#include "cli/bookmark.h"

#include <fmt/core.h>

#include <fstream>
#include <nlohmann/json.hpp>

namespace stickwright {
namespace {

// A damaged or foreign file must not be taken for a search that is half done.
Problem not_this_search(const std::filesystem::path& file) {
  return {"wrong_bookmark", file.string(),
          "this is no bookmark of the search that is asked for: expected one that was written for this design as it is "
          "now, counted the same way. Name another file, or remove it to begin afresh.",
          ""};
}

class Mixer {
 public:
  void add(std::int64_t value) {
    for (int byte = 0; byte < 8; ++byte) state_ = (state_ ^ (value >> 8 * byte & 255)) * 0x100000001B3u;
  }
  void add(const Cells& cells) {
    add(static_cast<std::int64_t>(cells.size()));
    for (Cell c : cells) add(c.x), add(c.y), add(c.z);
  }
  std::string text() const { return fmt::format("{:016x}", state_); }

 private:
  std::uint64_t state_ = 0xCBF29CE484222325u;  // 64-bit FNV-1a
};

}  // namespace

std::string fingerprint(const Design& design, UpTo up_to) {
  Mixer mixer;
  for (char c : design.family->name()) mixer.add(c);
  mixer.add(static_cast<std::int64_t>(up_to));
  mixer.add(design.pieces_used.value_or(0));
  mixer.add(design.goal);
  mixer.add(design.may_stay_empty);
  for (const Supply& s : supplies_of(design)) mixer.add(s.shape.cells), mixer.add(s.count), mixer.add(s.at_least);
  return mixer.text();
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
