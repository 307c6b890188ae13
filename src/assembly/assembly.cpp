#include "assembly/assembly.h"

#include <algorithm>

#include "assembly/placements.h"

namespace stickwright {

std::vector<Supply> supplies_of(const Design& design) {
  std::vector<Supply> supplies;
  const std::vector<MadePiece> made = made_pieces(design);
  for (bool optional : {false, true})
    for (std::size_t i = 0; i < made.size(); ++i) {
      if (design.pieces[made[i].piece].optional != optional) continue;
      const Shape shape = shape_of(*design.family, made[i].cells).shape;
      auto at = std::find_if(supplies.begin(), supplies.end(), [&](const Supply& s) { return s.shape == shape; });
      if (at == supplies.end()) at = supplies.insert(at, Supply{shape, 0, 0, {}});
      at->count += made[i].copies;
      at->at_least += optional ? 0 : made[i].copies;
      at->made.insert(at->made.end(), static_cast<std::size_t>(made[i].copies), static_cast<int>(i));
    }
  return supplies;
}

Assemblies find_assemblies(const Design& design, const AssemblyLimits& limits, const AssemblyListener& tell) {
  const Placements placements = placements_of(design, limits.up_to);
  CoverLimits cover_limits{limits.nodes, limits.count, limits.keep, limits.threads, limits.first_branch, limits.cancel};
  CoverListener listener{{}, tell.most, tell.on_progress, tell.as_found};
  if (tell.on_assembly)
    listener.on_cover = [&](const Cover& cover) { tell.on_assembly(assembly_of(placements, cover)); };
  const CoverAnswer answer = solve_cover(placements.problem, cover_limits, listener);
  Assemblies out{answer.verdict,  answer.count,      answer.total,     {}, answer.nodes, answer.branches_done,
                 answer.branches, answer.count_done, answer.total_done};
  for (const Cover& cover : answer.kept) out.kept.push_back(assembly_of(placements, cover));
  return out;
}

std::vector<int> made_pieces_in(const Assembly& assembly, const std::vector<Supply>& supplies) {
  std::vector<std::size_t> used(supplies.size());
  std::vector<int> out;
  for (const PlacedPiece& p : assembly) out.push_back(supplies[p.supply].made[used[p.supply]++]);
  return out;
}

Design settled(const Design& design, const Assembly& assembly) {
  std::vector<int> used(made_pieces(design).size());
  for (int made : made_pieces_in(assembly, supplies_of(design))) ++used[static_cast<std::size_t>(made)];
  Cells filled;
  for (const PlacedPiece& p : assembly) filled.insert(filled.end(), p.cells.begin(), p.cells.end());
  std::sort(filled.begin(), filled.end());
  return settled(design, used, std::move(filled));
}

}  // namespace stickwright
