#include "takeapart/two_hands.h"

#include <algorithm>
#include <cassert>

namespace stickwright {
namespace {

bool has(std::uint64_t group, std::size_t i) {
  return (group >> i & 1) != 0;
}

// Whoever has to come along with each piece, however indirectly, and the piece itself.
BlockingGraph followed(BlockingGraph graph) {
  for (std::size_t i = 0; i < graph.size(); ++i) graph[i] |= std::uint64_t{1} << i;
  for (std::size_t via = 0; via < graph.size(); ++via)
    for (std::uint64_t& reached : graph)
      if (has(reached, via)) reached |= graph[via];
  return graph;
}

// Nobody who comes along could do without the others.
bool is_least(const BlockingGraph& along, std::uint64_t group) {
  for (std::size_t i = 0; i < along.size(); ++i)
    if (has(group, i) && along[i] != group) return false;
  return true;
}

std::vector<int> members(std::uint64_t group) {
  std::vector<int> out;
  for (int i = 0; i < kMostPieces; ++i)
    if (has(group, i)) out.push_back(i);
  return out;
}

}  // namespace

BlockingGraph blocking_graph(const Touching& touching, Vec direction) {
  assert(touching.pieces <= kMostPieces);
  BlockingGraph graph(touching.pieces);
  const auto block = [&](int i, int j) { graph[i] |= std::uint64_t{1} << j; };
  for (const Contact& c : touching.faces) {
    const std::int64_t speed = dot(c.normal, direction);
    if (speed > 0) block(c.from, c.to);
    if (speed < 0) block(c.to, c.from);
  }
  for (const EdgeContact& e : touching.edges) {
    const auto all = [&](auto runs_in) { return std::all_of(e.normals.begin(), e.normals.end(), runs_in); };
    if (all([&](Vec n) { return dot(n, direction) > 0; })) block(e.from, e.to);
    if (all([&](Vec n) { return dot(n, direction) < 0; })) block(e.to, e.from);
  }
  return graph;
}

std::vector<std::uint64_t> movable_groups(const BlockingGraph& graph) {
  const BlockingGraph along = followed(graph);
  std::vector<std::uint64_t> groups;
  for (std::uint64_t group : along)
    if (is_least(along, group) && std::find(groups.begin(), groups.end(), group) == groups.end())
      groups.push_back(group);
  const bool only_all = groups.size() == 1 && members(groups[0]).size() == graph.size();
  return only_all ? std::vector<std::uint64_t>{} : groups;
}

std::vector<Parting> partings(const Family& family, const Touching& touching) {
  std::vector<Parting> out;
  for (Vec d : family.slide_directions())
    for (std::uint64_t group : movable_groups(blocking_graph(touching, d))) out.push_back({d, members(group)});
  return out;
}

}  // namespace stickwright
