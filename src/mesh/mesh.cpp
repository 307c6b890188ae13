#include "mesh/mesh.h"

#include <algorithm>
#include <map>
#include <set>

namespace stickwright {
namespace {

struct OuterFace {
  HalfSpace plane;
  std::vector<Vec> loop;
};

std::vector<OuterFace> outer_faces(const Family& family, const Cells& cells) {
  std::vector<OuterFace> out;
  for (Cell c : cells) {
    const auto planes = family.planes(c);
    const auto across = family.neighbors(c);
    for (std::size_t f = 0; f < planes.size(); ++f)
      if (!std::binary_search(cells.begin(), cells.end(), across[f]))
        out.push_back({planes[f], face_loop(family, c, planes[f])});
  }
  return out;
}

using Side = std::pair<Vec, Vec>;  // the lesser end first

// The sides of cell faces at which the surface bends, or meets itself: not two faces of one plane side by side.
std::set<Side> bends_of(const std::vector<OuterFace>& faces) {
  std::map<Side, std::vector<HalfSpace>> at;
  for (const OuterFace& f : faces)
    for (std::size_t i = 0; i < f.loop.size(); ++i) {
      const Vec p = f.loop[i], q = f.loop[(i + 1) % f.loop.size()];
      at[std::minmax(p, q)].push_back(f.plane);
    }
  std::set<Side> bends;
  for (const auto& [side, planes] : at)
    if (planes.size() != 2 || planes[0] != planes[1]) bends.insert(side);
  return bends;
}

bool straight(Vec a, Vec b, Vec c) {
  return cross(b - a, c - b) == Vec{} && dot(b - a, c - b) > 0;
}

// Joins sides end to end where they run straight on and nothing else begins.
std::vector<Side> drawn_through(const std::set<Side>& bends) {
  std::map<Vec, std::vector<Vec>> ends;
  for (const auto& [p, q] : bends) ends[p].push_back(q), ends[q].push_back(p);
  const auto goes_on = [&](Vec from, Vec at) {
    const std::vector<Vec>& next = ends[at];
    return next.size() == 2 && straight(from, at, next[0] == from ? next[1] : next[0]);
  };
  std::vector<Side> out;
  for (const auto& [corner, next] : ends)
    for (Vec to : next) {
      if (goes_on(to, corner)) continue;
      Vec from = corner, at = to;
      while (goes_on(from, at)) {
        const Vec on = ends[at][0] == from ? ends[at][1] : ends[at][0];
        from = at, at = on;
      }
      if (corner < at) out.push_back({corner, at});
    }
  return out;
}

}  // namespace

std::vector<Vec> face_loop(const Family& family, Cell cell, const HalfSpace& plane) {
  std::vector<Vec> on;
  for (Vec p : family.corners(cell))
    if (dot(plane.n, p) == plane.c) on.push_back(p);
  // From the first corner all others lie within half a turn of each other: the face is convex.
  std::sort(on.begin() + 1, on.end(), [&](Vec p, Vec q) { return dot(plane.n, cross(p - on[0], q - on[0])) > 0; });
  return on;
}

Mesh mesh_of(const Family& family, const Cells& cells) {
  const std::vector<OuterFace> faces = outer_faces(family, cells);
  std::map<Vec, int> number;
  for (const OuterFace& f : faces)
    for (Vec p : f.loop) number.emplace(p, 0);
  Mesh mesh;
  for (auto& [corner, n] : number) n = static_cast<int>(mesh.corners.size()), mesh.corners.push_back(corner);
  for (const OuterFace& f : faces)
    for (std::size_t i = 1; i + 1 < f.loop.size(); ++i)
      mesh.triangles.push_back({number.at(f.loop[0]), number.at(f.loop[i]), number.at(f.loop[i + 1])});
  for (const auto& [p, q] : drawn_through(bends_of(faces))) mesh.edges.push_back({number.at(p), number.at(q)});
  return mesh;
}

std::int64_t volume_times_6(const Mesh& m) {
  std::int64_t sum = 0;
  for (const auto& [a, b, c] : m.triangles) sum += dot(m.corners[a], cross(m.corners[b], m.corners[c]));
  return sum;
}

}  // namespace stickwright
