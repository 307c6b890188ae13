#include "design/datum_reading.h"

#include <fmt/core.h>

#include <algorithm>
#include <optional>
#include <set>

#include "design/glue_list.h"
#include "design/gluing.h"
#include "text/nearest.h"

namespace stickwright {
namespace {

constexpr std::size_t kMostDatumDirections = 3;

// The outward normals of the faces that show from outside.
std::set<Vec> outer_normals(const Family& family, const Cells& cells) {
  std::set<Vec> normals;
  for (Cell c : cells) {
    const auto planes = family.planes(c);
    const auto neighbors = family.neighbors(c);
    for (std::size_t i = 0; i < planes.size(); ++i)
      if (!std::binary_search(cells.begin(), cells.end(), neighbors[i])) normals.insert(planes[i].n);
  }
  return normals;
}

// One face of the datum.   returns  nothing, with a problem noted, when the piece has no such face or it stood before
std::optional<Vec> datum_face(const Table& table, std::size_t i, const std::string& name, const std::set<Vec>& faces,
                              const std::vector<Vec>& before) {
  const auto normal = face_normal(name);
  if (!normal || !faces.count(*normal)) {
    std::vector<std::string> names;
    for (Vec n : faces) names.push_back(face_name(n));
    table.report("datum", i, "bad_face",
                 fmt::format("datum: the piece has no face \"{}\".{} Its faces are {}.", name,
                             did_you_mean(name, names), quoted_list(names, "and")));
    return {};
  }
  if (std::count(before.begin(), before.end(), *normal)) {
    table.report("datum", i, "face_twice", fmt::format("datum: face \"{}\" is given twice. Leave one out.", name));
    return {};
  }
  return normal;
}

std::size_t directions_of(const std::vector<Vec>& normals) {
  std::set<Vec> lines;
  for (Vec n : normals) lines.insert(std::max(n, -n));
  return lines.size();
}

}  // namespace

std::vector<Vec> read_datum(const Table& table, const std::vector<std::string>& names, const Family& family,
                            const Cells& cells) {
  std::vector<Vec> datum;
  if (names.empty() || cells.empty()) return datum;
  if (&family != &mitered()) {
    table.report(table.key_place("datum"), "wrong_family",
                 fmt::format("the {} family has no `datum`: its pieces are not glued up from blocks. Leave it out.",
                             family.name()));
    return datum;
  }
  const std::set<Vec> faces = outer_normals(family, cells);
  for (std::size_t i = 0; i < names.size(); ++i) {
    const auto normal = datum_face(table, i, names[i], faces, datum);
    if (normal) datum.push_back(*normal);
    if (directions_of(datum) <= kMostDatumDirections) continue;
    table.report("datum", i, "bad_count",
                 fmt::format("datum: expected faces of at most {} directions, parallel ones counted once; face \"{}\" "
                             "is one more. Three plates hold a piece fully.",
                             kMostDatumDirections, names[i]));
    break;
  }
  return datum;
}

}  // namespace stickwright
