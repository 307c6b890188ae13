#include "batch/plan.h"

#include <fmt/core.h>

#include <algorithm>
#include <set>

#include "batch/contrast.h"
#include "batch/shapes_cut.h"
#include "batch/taught.h"
#include "design/design_file.h"
#include "ledger/ledger.h"
#include "text/nearest.h"

namespace stickwright {
namespace {

std::vector<std::string> piece_names(const Design& d) {
  std::vector<std::string> names;
  for (const Piece& p : d.pieces) names.push_back(p.name);
  return names;
}

const Piece* find_piece(const Design& d, const std::string& name) {
  for (const Piece& p : d.pieces)
    if (p.name == name) return &p;
  return nullptr;
}

std::optional<Problem> unknown_piece(const Batch& batch, const Design& d, const std::string& name, Place at) {
  if (name == kEveryPiece || find_piece(d, name)) return {};
  const auto names = piece_names(d);
  return problem_at(*batch.source, at, "unknown_piece",
                    fmt::format("\"{}\" has no piece called \"{}\"{}. Its pieces are {}.", d.name, name,
                                did_you_mean(name, names), quoted_list(names, "and")));
}

// One wood for all copies of a piece in a puzzle, or one for each.
std::optional<Problem> check_piece_woods(const Batch& batch, const PuzzleOrder& order, const Design& d) {
  for (const PieceWoods& w : order.woods) {
    if (auto problem = unknown_piece(batch, d, w.piece, w.piece_at)) return problem;
    for (const Piece& p : d.pieces) {
      if (woods_of(order, p.name) != &w || w.woods.size() == 1) continue;
      if (static_cast<int>(w.woods.size()) != p.total_copies())
        return problem_at(
            *batch.source, w.piece_at, "wrong_count",
            fmt::format("{} woods for {} copies of \"{}\" in one puzzle. Give one wood, or one for each copy.",
                        w.woods.size(), p.total_copies(), p.name));
    }
  }
  for (const Piece& p : d.pieces)
    if (!woods_of(order, p.name))
      return problem_at(
          *batch.source, order.woods_at, "missing_key",
          fmt::format("no wood is given for piece \"{}\". Add \"{}\" or \"*\" (every other piece) to woods.", p.name,
                      p.name));
  return {};
}

std::optional<Problem> check_block_woods(const Batch& batch, const PuzzleOrder& order, const PuzzlePlan& puzzle,
                                         const Split& split) {
  for (const BlockWood& w : order.block_woods) {
    if (auto problem = unknown_piece(batch, puzzle.design.design, w.piece, w.piece_at)) return problem;
    std::set<std::string> shapes;
    for (std::size_t i = 0; i < puzzle.design.made.size(); ++i)
      for (const PlacedBlock& b : split.pieces[puzzle.first + i].blocks)
        if (w.piece == kEveryPiece || puzzle.design.design.pieces[puzzle.design.made[i].piece].name == w.piece)
          shapes.insert(split.shapes[b.shape].shape);
    if (shapes.contains(w.block)) continue;
    const std::vector<std::string> names(shapes.begin(), shapes.end());
    return problem_at(*batch.source, w.block_at, "unknown_block",
                      fmt::format("no block of \"{}\" is called \"{}\"{}. Its blocks are {}.", w.piece, w.block,
                                  did_you_mean(w.block, names), quoted_list(names, "and")));
  }
  return {};
}

// Mirrored copies come after the others in a list of woods.
void give_woods(const PuzzleOrder& order, PuzzlePlan& puzzle, const Split& split) {
  const Design& d = puzzle.design.design;
  for (std::size_t i = 0; i < puzzle.design.made.size(); ++i) {
    const MadePiece& made = puzzle.design.made[i];
    const Piece& piece = d.pieces[made.piece];
    const PieceWoods& woods = *woods_of(order, piece.name);
    std::vector<std::vector<std::string>> copies;
    for (int c = 0; c < made.copies; ++c) {
      const auto k = static_cast<std::size_t>(made.mirrored ? piece.copies + c : c);
      std::vector<std::string> blocks;
      for (const PlacedBlock& b : split.pieces[puzzle.first + i].blocks) {
        const BlockWood* own = block_wood_of(order, piece.name, split.shapes[b.shape].shape);
        blocks.push_back(own ? own->wood : woods.woods.size() == 1 ? woods.woods[0] : woods.woods[k]);
      }
      copies.push_back(std::move(blocks));
    }
    puzzle.wood_of.push_back(std::move(copies));
  }
}

std::optional<Problem> load_puzzles(BatchPlan& plan) {
  for (const PuzzleOrder& order : plan.batch.puzzles) {
    auto design = load_design(order.design);
    if (!design && design.problem().code == "no_file")
      return problem_at(*plan.batch.source, order.design_at, "no_file", design.problem().say);
    if (!design) return design.problem();
    if (design.value().family != &mitered())
      return problem_at(
          *plan.batch.source, order.design_at, "wrong_family",
          fmt::format("\"{}\" is of the {} family: only mitered designs can be planned for the saw so far. "
                      "`stickwright check` takes it.",
                      design.value().name, design.value().family->name()));
    if (auto problem = check_piece_woods(plan.batch, order, design.value())) return problem;
    PuzzlePlan puzzle{plan_design(design.take()), order.copies, 0, {}, 0};
    if (!puzzle.design.works())
      return problem_at(*plan.batch.source, order.design_at,
                        puzzle.design.take_apart.verdict == Verdict::stopped ? "stopped" : "does_not_work",
                        why_not(puzzle.design));
    plan.puzzles.push_back(std::move(puzzle));
  }
  return {};
}

void count_blocks(BatchPlan& plan) {
  for (const PuzzlePlan& p : plan.puzzles)
    for (std::size_t i = 0; i < p.wood_of.size(); ++i)
      for (const auto& copy : p.wood_of[i])
        for (std::size_t b = 0; b < copy.size(); ++b)
          plan.set_ups[plan.split.pieces[p.first + i].blocks[b].shape].needed[copy[b]] += p.copies;
  for (SetUp& s : plan.set_ups)
    for (const auto& [wood, count] : s.needed) s.spares[wood] = spares_for(plan.batch, count);
}

std::vector<std::string> woods_of_set_ups(const std::vector<SetUp>& set_ups) {
  std::set<std::string> woods;
  for (const SetUp& s : set_ups)
    for (const auto& [wood, count] : s.needed) woods.insert(wood);
  return {woods.begin(), woods.end()};
}

std::vector<TaughtStop> taught_stops(const BatchPlan& plan) {
  std::vector<TaughtStop> out;
  for (const SetUp& s : plan.set_ups)
    for (std::size_t k = 0; k < s.tests.size(); ++k)
      out.push_back({set_up_id(plan, s), static_cast<int>(k) + 1, s.tests[k].test.per_stop, s.tests[k].u_reading.v});
  return out;
}

// A stop stands only until the next set-up takes it down: neighbors in the order of the set-ups are compared.
void find_standing_stops(std::vector<SetUp>& set_ups) {
  for (std::size_t k = 1; k < set_ups.size(); ++k) {
    const Stop& first = set_ups[k].stops[0].stop;
    for (const StopPlan& s : set_ups[k - 1].stops)
      if (s.stop.face == first.face && s.stop.distance == first.distance)
        set_ups[k].stop_stands = set_ups[k - 1].leave_standing = true;
  }
}

// At the place where it can be mended: the gauge blocks and the sled are the shop's, the stick is the batch's.
Problem placed_set_up(const Batch& batch, const Problem& p) {
  if (!p.excerpt.empty()) return p;
  const std::string say = p.where.empty() ? p.say : p.where + ": " + p.say;
  if (p.code == "no_program") return problem_at(*batch.source, batch.stick_at, p.code, say);
  const Shop& shop = batch.shop;
  return problem_at(*shop.source, p.code == "no_square_stop" ? shop.sled.back_to_blade_at : shop.gauge_blocks.set_at,
                    p.code, say);
}

std::optional<Problem> plan_shapes(BatchPlan& plan) {
  std::vector<int> axes;
  for (std::size_t i = 0; i < plan.split.shapes.size(); ++i) {
    auto set_up = plan_set_up(plan.batch, plan.gauge_blocks, plan.split.shapes[i], static_cast<int>(i));
    if (!set_up) return placed_set_up(plan.batch, set_up.problem());
    axes.push_back(set_up.value().program.stick_axis);
    plan.set_ups.push_back(set_up.take());
  }
  run_grain(plan.split, axes);
  find_standing_stops(plan.set_ups);
  return {};
}

}  // namespace

Result<BatchPlan> plan_puzzles(const std::string& batch_file) {
  auto batch = load_batch(batch_file);
  if (!batch) return batch.problem();
  BatchPlan plan{batch.take(), {}, {}, {}, {}, {}};
  auto set = gauge_set_of(plan.batch.shop);
  if (!set) return set.problem();
  plan.gauge_blocks = set.take();
  if (auto problem = load_puzzles(plan)) return *problem;
  std::vector<MadePiece> made;
  for (PuzzlePlan& p : plan.puzzles) {
    p.first = made.size();
    made.insert(made.end(), p.design.made.begin(), p.design.made.end());
  }
  plan.split = split_with_grain(made);
  for (std::size_t i = 0; i < plan.puzzles.size(); ++i) {
    if (auto problem = check_block_woods(plan.batch, plan.batch.puzzles[i], plan.puzzles[i], plan.split))
      return *problem;
    give_woods(plan.batch.puzzles[i], plan.puzzles[i], plan.split);
    plan.puzzles[i].like_wood_contacts = contrast_woods(plan.puzzles[i]);
  }
  return plan;
}

Result<BatchPlan> plan_set_ups(const std::string& batch_file) {
  auto puzzles = plan_puzzles(batch_file);
  if (!puzzles) return puzzles;
  BatchPlan plan = puzzles.take();
  if (auto problem = plan_shapes(plan)) return *problem;
  count_blocks(plan);
  std::vector<std::filesystem::path> ledgers;
  for (const auto& earlier : plan.batch.learn_from) ledgers.push_back(ledger_path(earlier));
  ledgers.push_back(ledger_path(batch_file));
  const auto taught = taught_by(ledgers, taught_stops(plan));
  if (!taught) return taught.problem();
  plan.saw = known_saw(plan.batch, woods_of_set_ups(plan.set_ups), taught.value());
  predict_tests(plan.saw, plan.batch, plan.gauge_blocks, plan.set_ups);
  return plan;
}

std::string set_up_id(const BatchPlan& plan, const SetUp& set_up) {
  std::string id;
  for (char c : plan.split.shapes[set_up.shape].full_name())
    if (c == ' ')
      id += '-';
    else if (c != ',')
      id += c;
  return id;
}

Result<std::size_t> find_set_up(const BatchPlan& plan, const std::string& text) {
  std::vector<std::string> ids;
  for (const SetUp& s : plan.set_ups) ids.push_back(set_up_id(plan, s));
  for (std::size_t k = 0; k < ids.size(); ++k)
    if (text == ids[k] || text == std::to_string(k + 1)) return k;
  return Problem{"unknown_set_up", "--setup",
                 fmt::format("there is no set-up \"{}\"{}. Name one of {}, or give its number, 1 to {}.", text,
                             did_you_mean(text, ids), quoted_list(ids), ids.size()),
                 ""};
}

}  // namespace stickwright
