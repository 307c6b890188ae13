#include "serve/design_answer.h"

#include <fmt/core.h>

#include <charconv>
#include <fstream>

#include "answers/design_json.h"
#include "batch/shapes_cut.h"
#include "design/design_file.h"
#include "serve/as_blocks.h"
#include "serve/glue_asked.h"
#include "serve/mesh_json.h"
#include "serve/saw_rule.h"
#include "serve/workbench.h"
#include "text/toml_reader.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

// What the page offers to build from; a file can name larger ones.
constexpr std::size_t kMostShownCells = 12;

Json goal_shown(const Design& d) {
  if (d.goal.empty()) return nullptr;
  const bool named = d.goal_given && !d.goal_given->solid.empty();
  return {{"cells", d.goal.size()},
          {"may_stay_empty", d.may_stay_empty.size()},
          {"given", d.goal_given.has_value()},
          {"solid", named ? Json(d.goal_given->solid) : Json(nullptr)},
          {"size", named ? Json(d.goal_given->size) : Json(nullptr)},
          {"says", named ? Json(fmt::format(
                               "the {}{}", d.goal_given->solid,
                               d.goal_given->size > 1 ? fmt::format(", {} times as large", d.goal_given->size) : ""))
                         : Json(nullptr)},
          {"mesh", mesh_json(*d.family, d.goal)}};
}

Json piece_shown(const Design& d, const Piece& p) {
  Json j = {{"name", p.name},
            {"copies", p.copies},
            {"mirrored_copies", p.mirrored_copies},
            {"optional", p.optional},
            {"keep_blocks", !p.own_blocks.empty()},
            {"datum", Json::array()},
            {"cells", p.cells.size()},
            {"blocks", Json(nullptr)},
            {"handed", handed(*d.family, shape_of(*d.family, p.cells).shape)},
            {"mesh", mesh_json(*d.family, p.cells)}};
  for (Vec normal : p.datum) j["datum"].push_back(face_name(normal));
  if (p.drawn_blocks.empty()) return j;
  j["blocks"] = Json::array();
  for (const BlockAsked& b : p.drawn_blocks) j["blocks"].push_back(block_asked_json(b));
  return j;
}

std::optional<std::size_t> index_asked(const std::string& text, std::size_t size) {
  std::size_t index = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), index);
  if (error != std::errc() || end != text.data() + text.size() || index >= size) return {};
  return index;
}

}  // namespace

Json design_json(const std::string& file, const std::string& version, const Design& d) {
  std::int64_t cells = 0;
  for (const Piece& p : d.pieces) cells += p.total_copies() * std::ssize(p.cells);
  Json j = {{"file", file},
            {"version", version},
            {"name", d.name},
            {"family", d.family->name()},
            {"draft", d.draft},
            {"goal", goal_shown(d)},
            {"cells_needed", std::ssize(d.goal) - std::ssize(d.may_stay_empty)},
            {"cells_of_pieces", cells},
            {"cells_left", std::ssize(d.goal) - cells},
            {"pieces", Json::array()}};
  for (const Piece& p : d.pieces) j["pieces"].push_back(piece_shown(d, p));
  return j;
}

Result<std::string> text_in(const Folder& folder, const std::string& name) {
  const auto file = folder.file(name);
  if (!file) return file.problem();
  std::ifstream in(file.value(), std::ios::binary);
  std::string text(kMaxTomlBytes + 1, '\0');
  if (in) in.read(text.data(), static_cast<std::streamsize>(text.size()));
  if (!in.eof() && in.fail()) return Problem{"no_file", name, "this file cannot be read", ""};
  text.resize(static_cast<std::size_t>(in.gcount()));
  if (text.size() > kMaxTomlBytes) return Problem{"bad_toml", name, "this file is larger than 4 MB", ""};
  return text;
}

Reply catalogue_reply(const Folder& folder, const Call& call) {
  const std::string family = call.asked("family").empty() ? "mitered" : call.asked("family");
  if (!find_family(family))
    return problem_reply({"unknown_family", "family", fmt::format("no family is called \"{}\".", family), ""});
  const auto rule = saw_rule_of(folder, call.asked("batch"));
  if (!rule) return problem_reply(rule.problem());
  Json out = {{"blocks", Json::array()}};
  if (family != mitered().name()) return json_reply(out);
  for (const Block& b : nameable_blocks()) {
    if (b.cells.size() > kMostShownCells) continue;
    const std::string why = why_not_sawn(b, rule.value());
    out["blocks"].push_back({{"shape", b.shape},
                             {"hand", hand_or_null(b.hand)},
                             {"cells", b.cells.size()},
                             {"faces", b.body.faces.size()},
                             {"mesh", mesh_json(mitered(), b.cells)},
                             {"can_be_sawn", why.empty()},
                             {"why_not", why}});
  }
  return json_reply(out);
}

Reply design_reply(const Folder& folder, const Call& call) {
  const std::string name = call.asked("file");
  const auto text = text_in(folder, name);
  if (!text) return problem_reply(text.problem());
  const auto design = parse_design(text.value(), name);
  if (!design) return problem_reply(design.problem());
  return json_reply(design_json(name, version_of(text.value()), design.value()));
}

Reply as_blocks_reply(const Folder& folder, const Call& call) {
  const std::string name = call.asked("file");
  const auto text = text_in(folder, name);
  if (!text) return problem_reply(text.problem());
  const auto design = parse_design(text.value(), name);
  if (!design) return problem_reply(design.problem());
  const Design& d = design.value();
  const auto index = index_asked(call.asked("piece"), d.pieces.size());
  if (!index) return problem_reply({"out_of_range", "piece", "the design has no such piece.", ""});
  if (d.family != &mitered())
    return problem_reply(
        {"wrong_family", name, "only mitered pieces are glued from blocks; notched ones are single sticks.", ""});
  const auto blocks = blocks_to_glue(d, *index);
  if (!blocks) return problem_reply(blocks.problem());
  Json out = {{"version", version_of(text.value())}, {"blocks", Json::array()}};
  for (const BlockAsked& b : blocks.value()) out["blocks"].push_back(block_asked_json(b));
  return json_reply(out);
}

Reply blocks_reply(const Folder& folder, const Call& call) {
  const std::string name = call.asked("design");
  const auto text = text_in(folder, name);
  if (!text) return problem_reply(text.problem());
  const auto design = parse_design(text.value(), name);
  if (!design) return problem_reply(design.problem());
  if (design.value().family != &mitered())
    return problem_reply(
        {"wrong_family", name, "only mitered pieces are glued from blocks; notched ones are single sticks.", ""});
  const std::vector<MadePiece> made = made_pieces(design.value());
  return json_reply(blocks_json(made, split_with_grain(made), 0, 0));
}

Reply steps_reply(Workbench& bench, const Call& call) {
  const std::string name = call.asked("design");
  const auto plan = bench.plans().design(name);
  if (!plan) return problem_reply(plan.problem());
  const DesignPlan& p = *plan.value();
  if (!p.works()) return problem_reply({p.stopped() ? "stopped" : "does_not_work", name, why_not(p), ""});
  return json_reply(steps_json(p));
}

}  // namespace stickwright
