#include "design/block_reading.h"

#include <algorithm>

namespace stickwright {
namespace {

constexpr std::int64_t kMostWays = 1'000'000;  // bounds what is read; what is too high is told with the number of ways

// Notes what is wrong with single values. Keys that do not go with the others are left unasked.
BlockAsked read_asked(const Table& entry, std::size_t before) {
  BlockAsked a;
  a.shape = entry.text("shape");
  if (entry.has("hand")) a.hand = entry.choice("hand", {"left", "right"}) == 0 ? Hand::left : Hand::right;
  const bool glued = entry.has("on") || entry.has("face");
  if (glued) {
    a.on = entry.integer("on", {1, static_cast<std::int64_t>(before)});
    a.face = entry.text("face");
  }
  if (entry.has("turn")) a.turn = entry.integer("turn", {1, kMostWays});
  if (!glued && entry.has("at")) a.at = entry.triple("at");
  return a;
}

// What the getters have told already is not told again in other words.
bool told(const Table& entry, const BlockAsked& asked, const NotSeated& trouble) {
  const bool glued = asked.on || asked.face;
  return asked.shape.empty() || (glued && (!entry.has("on") || asked.face->empty())) || trouble.code == "missing_key" ||
         (trouble.key == "on" && trouble.code == "no_way_to_glue");
}

}  // namespace

std::optional<BlockList> read_blocks(const Table& piece) {
  BlockList list;
  std::vector<Cells> blocks;
  Cells taken;
  bool sound = true;
  for (const Table& entry : piece.tables("blocks")) {
    list.asked.push_back(read_asked(entry, blocks.size()));
    auto seated = seat_block(list.asked.back(), blocks, taken);
    if (const auto* trouble = std::get_if<NotSeated>(&seated)) {
      sound = false;
      blocks.emplace_back();
      if (told(entry, list.asked.back(), *trouble)) continue;
      if (trouble->key.empty())
        entry.report(entry.place(), trouble->code, trouble->say);
      else
        entry.report(trouble->key, trouble->code, trouble->say);
      continue;
    }
    blocks.push_back(std::get<SeatedBlock>(std::move(seated)).cells);
    taken.insert(taken.end(), blocks.back().begin(), blocks.back().end());
    std::sort(taken.begin(), taken.end());
  }
  list.cells = std::move(blocks);
  return sound ? std::optional(std::move(list)) : std::nullopt;
}

}  // namespace stickwright
