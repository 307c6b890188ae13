#include "family/family.h"

#include <algorithm>
#include <map>

namespace stickwright {
namespace {

Cells shifted_home(const Family& family, Cells cells, Vec* shift) {
  *shift = family.shift_home(cells.front());
  return moved(family, {Turn{}, *shift}, cells);
}

}  // namespace

std::vector<std::string> family_names() {
  return {std::string(mitered().name()), std::string(notched().name())};
}

const Family* find_family(std::string_view name) {
  for (const Family* f : {&mitered(), &notched()})
    if (name == f->name()) return f;
  return nullptr;
}

Cells moved(const Family& family, const Isometry& by, const Cells& cells) {
  Cells out;
  out.reserve(cells.size());
  for (Cell c : cells) out.push_back(family.moved(by, c));
  std::sort(out.begin(), out.end());
  return out;
}

bool connected(const Family& family, const Cells& cells) {
  if (cells.empty()) return false;
  std::vector<bool> seen(cells.size());
  std::vector<std::size_t> open = {0};
  seen[0] = true;
  for (std::size_t done = 0; done < open.size(); ++done)
    for (Cell n : family.neighbors(cells[open[done]])) {
      const auto at = std::lower_bound(cells.begin(), cells.end(), n);
      const auto i = static_cast<std::size_t>(at - cells.begin());
      if (at != cells.end() && *at == n && !seen[i]) seen[i] = true, open.push_back(i);
    }
  return open.size() == cells.size();
}

PosedShape shape_of(const Family& family, const Cells& cells) {
  PosedShape best;
  for (const Turn& turn : family.rotations()) {
    Vec shift;
    Cells home = shifted_home(family, moved(family, {turn, {}}, cells), &shift);
    if (!best.shape.cells.empty() && !(home < best.shape.cells)) continue;
    best.shape.cells = std::move(home);
    best.pose = {turn.inverse(), -(turn.inverse() * shift)};
  }
  return best;
}

Shape mirror_of(const Family& family, const Shape& shape) {
  return shape_of(family, moved(family, {family.reflections().front(), {}}, shape.cells)).shape;
}

bool handed(const Family& family, const Shape& shape) {
  return mirror_of(family, shape) != shape;
}

std::vector<PosedShape> distinct_turns(const Family& family, const Shape& shape) {
  std::map<Cells, Isometry> turns;
  for (const Turn& turn : family.rotations()) {
    Vec shift;
    Cells home = shifted_home(family, moved(family, {turn, {}}, shape.cells), &shift);
    turns.try_emplace(std::move(home), Isometry{turn, shift});
  }
  std::vector<PosedShape> out;
  for (auto& [cells, pose] : turns) out.push_back({{cells}, pose});
  return out;
}

}  // namespace stickwright
