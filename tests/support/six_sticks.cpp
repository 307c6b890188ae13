#include "support/six_sticks.h"

#include "support/in_parallel.h"
#include "support/six_sticks_sides.h"

namespace stickwright::six_sticks {
namespace {

template <typename T>
void sort_distinct(std::vector<T>& all) {
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
}

// Those of the parts, one for all images, that come apart; sorted.
std::vector<Part> loose_parts(const std::vector<TwoSides>& boundaries, const ApartTest& comes_apart, int threads) {
  std::vector<Part> parts;
  for (const TwoSides& sides : boundaries) {
    for (const auto* side : {&sides.group, &sides.others}) parts.insert(parts.end(), side->begin(), side->end());
  }
  for_each_index(parts.size(), threads, 64, [&](std::size_t k) { parts[k] = least_image(parts[k]); });
  sort_distinct(parts);
  std::vector<std::uint8_t> verdict(parts.size());
  for_each_index(parts.size(), threads, 64, [&](std::size_t k) { verdict[k] = comes_apart(cells_of(parts[k])); });
  std::vector<Part> loose;
  for (std::size_t k = 0; k < parts.size(); ++k) {
    if (verdict[k]) loose.push_back(parts[k]);
  }
  return loose;
}

}  // namespace

std::vector<Burr> burrs_that_come_apart(const PieceTest& allowed, const ApartTest& comes_apart, int threads) {
  std::vector<TwoSides> boundaries = two_sides(PieceChoice(allowed), threads);
  const std::vector<Part> loose = loose_parts(boundaries, comes_apart, threads);
  const auto stuck = [&](const Part& part) {
    return !std::binary_search(loose.begin(), loose.end(), least_image(part));
  };
  std::vector<Burr> burrs;
  for_each_index(boundaries.size(), threads, 64, [&](std::size_t k) {
    std::erase_if(boundaries[k].group, stuck);
    std::erase_if(boundaries[k].others, stuck);
  });
  for (const TwoSides& sides : boundaries) {
    for (const Part& a : sides.group) {
      for (const Part& b : sides.others) {
        Burr burr = a.kept;
        for (int i = 0; i < kSticks; ++i) burr[i] |= b.kept[i];
        burrs.push_back(burr);
      }
    }
  }
  for_each_index(burrs.size(), threads, 64, [&](std::size_t k) { burrs[k] = least_turned(burrs[k]); });
  sort_distinct(burrs);
  return burrs;
}

Census census(const PieceTest& allowed, const ApartTest& comes_apart, int threads) {
  const std::vector<Burr> burrs = burrs_that_come_apart(allowed, comes_apart, threads);
  std::vector<StickShape> piece(kLooseSets);
  for (int kept = 0; kept < kLooseSets; ++kept) piece[kept] = piece_of(shape_of(static_cast<Kept>(kept)));
  std::vector<StickShape> used;
  std::vector<std::array<StickShape, kSticks>> sets;
  for (const Burr& burr : burrs) {
    std::array<StickShape, kSticks> set{};
    std::transform(burr.begin(), burr.end(), set.begin(), [&](Kept kept) { return piece[kept]; });
    std::sort(set.begin(), set.end());
    sets.push_back(set);
    used.insert(used.end(), set.begin(), set.end());
  }
  sort_distinct(used);
  sort_distinct(sets);
  return {pieces(allowed).size(), burrs.size(), used.size(), sets.size()};
}

}  // namespace stickwright::six_sticks
