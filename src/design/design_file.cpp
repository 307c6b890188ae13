#include "design/design_file.h"

#include <fmt/core.h>

#include <set>

#include "design/fit.h"
#include "design/goal_reading.h"
#include "design/piece_reading.h"
#include "text/nearest.h"
#include "text/toml_reader.h"

namespace stickwright {
namespace {

void check_names(const Design& d, const std::vector<Table>& tables) {
  std::set<std::string> names;
  for (std::size_t i = 0; i < d.pieces.size(); ++i)
    if (!names.insert(d.pieces[i].name).second)
      tables[i].report("name", "name_twice",
                       fmt::format("two pieces are called \"{}\". Give each its own name.", d.pieces[i].name));
}

Result<Design> design_of(const Document& document) {
  const Table root = document.root();
  root.format(1);
  Design d;
  d.name = root.text("name");
  d.draft = root.flag_or("draft", false);
  const std::string family = root.text("family");
  d.family = find_family(family);
  if (!d.family) {
    if (!family.empty())
      root.report("family", "unknown_family",
                  fmt::format("no family is called \"{}\".{} Known: {}.", family, did_you_mean(family, family_names()),
                              quoted_list(family_names(), "and")));
    return document.finish().value_or(Problem{"unknown_family", "", "family", ""});
  }
  const Table goal = root.table_if("goal");
  read_goal(goal, d);
  const std::vector<Table> tables = root.tables("piece");
  for (const Table& t : tables) d.pieces.push_back(read_piece(t, *d.family));
  check_names(d, tables);
  if (auto problem = document.finish()) return *problem;  // before the pieces are put together: they must be sound
  if (!goal.present()) d.goal = union_of_pieces(d, tables);
  if (auto problem = document.finish()) return *problem;
  check_fit(d, goal.present() ? goal : tables.front());
  return document.finish(std::move(d));
}

}  // namespace

Result<Design> load_design(const std::filesystem::path& path) {
  auto document = read_toml(path);
  if (!document) return document.problem();
  return design_of(document.value());
}

Result<Design> parse_design(std::string_view text, const std::string& file) {
  auto document = parse_toml(text, file);
  if (!document) return document.problem();
  return design_of(document.value());
}

}  // namespace stickwright
