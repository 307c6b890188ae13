#include "glueup/joint_load.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "mesh/shared_faces.h"

namespace stickwright {
namespace {

// The blocks that still hang together with `from` when one joint is gone.
std::vector<char> held_with(int from, std::size_t blocks, const std::vector<Joint>& joints, std::size_t without) {
  std::vector<char> held(blocks);
  held[static_cast<std::size_t>(from)] = 1;
  for (std::size_t round = 0; round < blocks; ++round)
    for (std::size_t j = 0; j < joints.size(); ++j) {
      if (j == without) continue;
      char &a = held[static_cast<std::size_t>(joints[j].a)], &b = held[static_cast<std::size_t>(joints[j].b)];
      a = b = a | b;
    }
  return held;
}

JointLoad load_of(const std::vector<Cells>& blocks, const std::vector<char>& part, const SharedFaces& joint) {
  JointLoad load{0, 0, std::sqrt(joint.area_units)};
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    if (!part[i]) continue;
    load.cells += static_cast<int>(blocks[i].size());
    for (Cell c : blocks[i])
      for (Vec p : mitered().corners(c))
        load.lever = std::max(load.lever, std::hypot(static_cast<double>(p.x) - joint.middle[0],
                                                     static_cast<double>(p.y) - joint.middle[1],
                                                     static_cast<double>(p.z) - joint.middle[2]));
  }
  return load;
}

}  // namespace

bool JointLoad::weak() const {
  return cells > 0 && reach() > kWeakReach;
}

std::vector<JointLoad> joint_loads(const std::vector<Cells>& blocks, const std::vector<Joint>& joints) {
  std::vector<JointLoad> loads;
  for (std::size_t j = 0; j < joints.size(); ++j) {
    const auto a = static_cast<std::size_t>(joints[j].a), b = static_cast<std::size_t>(joints[j].b);
    const SharedFaces shared = shared_faces(mitered(), blocks[a], blocks[b]);
    const std::vector<char> near = held_with(joints[j].a, blocks.size(), joints, j);
    if (near[b]) {
      loads.push_back({0, 0, std::sqrt(shared.area_units)});
      continue;
    }
    const std::vector<char> far = held_with(joints[j].b, blocks.size(), joints, j);
    const std::array sides = {load_of(blocks, near, shared), load_of(blocks, far, shared)};
    loads.push_back(*std::min_element(sides.begin(), sides.end(), [](const JointLoad& p, const JointLoad& q) {
      return std::pair(p.cells, p.lever) < std::pair(q.cells, q.lever);
    }));
  }
  return loads;
}

}  // namespace stickwright
