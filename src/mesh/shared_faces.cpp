#include "mesh/shared_faces.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "mesh/mesh.h"

namespace stickwright {
namespace {

std::array<double, 3> mean(const std::vector<Vec>& points) {
  Vec sum;
  for (Vec p : points) sum = sum + p;
  const auto n = static_cast<double>(points.size());
  return {static_cast<double>(sum.x) / n, static_cast<double>(sum.y) / n, static_cast<double>(sum.z) / n};
}

}  // namespace

double face_area(const Family& family, Cell cell, const HalfSpace& plane) {
  const std::vector<Vec> loop = face_loop(family, cell, plane);
  Vec twice;
  for (std::size_t i = 1; i + 1 < loop.size(); ++i) twice = twice + cross(loop[i] - loop[0], loop[i + 1] - loop[0]);
  return std::sqrt(static_cast<double>(dot(twice, twice))) / 2;
}

SharedFaces shared_faces(const Family& family, const Cells& a, const Cells& b) {
  SharedFaces out;
  std::map<Vec, int> normals;
  for (Cell c : a) {
    const auto planes = family.planes(c);
    const auto across = family.neighbors(c);
    for (std::size_t f = 0; f < planes.size(); ++f) {
      if (!std::binary_search(b.begin(), b.end(), across[f])) continue;
      const double area = face_area(family, c, planes[f]);
      const std::array<double, 3> at = mean(face_loop(family, c, planes[f]));
      for (std::size_t i = 0; i < 3; ++i) out.middle[i] += area * at[i];
      out.area_units += area;
      ++out.cell_faces;
      ++normals[planes[f].n];
    }
  }
  if (out.cell_faces == 0) return out;
  for (double& m : out.middle) m /= out.area_units;
  out.normal = std::max_element(normals.begin(), normals.end(), [](const auto& p, const auto& q) {
                 return p.second < q.second;
               })->first;
  return out;
}

std::array<double, 3> middle_of(const Family& family, const Cells& cells) {
  std::array<double, 3> sum{};
  for (Cell c : cells) {
    const std::array<double, 3> at = mean(family.corners(c));
    for (std::size_t i = 0; i < 3; ++i) sum[i] += at[i] / static_cast<double>(cells.size());
  }
  return sum;
}

}  // namespace stickwright
