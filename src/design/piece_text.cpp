#include "design/piece_text.h"

#include <fmt/core.h>

#include <algorithm>

namespace stickwright {
namespace {

bool only_spaces(std::string_view text) {
  return text.find_first_not_of(" \t") == std::string_view::npos;
}

// Blocks beyond those that were there, after the last one.
TextChange appended(std::string_view text, const LaidValue& list, const std::vector<BlockAsked>& are) {
  const TextSpan last = list.items.back();
  const TextSpan line = line_at(text, last.end);
  const bool lines = list.span.end - 1 > line.end;  // the bracket closes on a later line
  const std::string_view before = text.substr(line.begin, last.begin - line.begin);
  std::string more;
  for (std::size_t i = list.items.size(); i < are.size(); ++i)
    more += lines && only_spaces(before) ? fmt::format("{}{}{},", line_end_of(text), before, block_text(are[i]))
                                         : fmt::format("{} {}", i > list.items.size() ? "," : "", block_text(are[i]));
  const bool comma = list.comma_after.back();
  if (lines && only_spaces(before) && comma &&
      text.substr(last.end, line.end - last.end).find(',') != std::string::npos)
    return {{line.end, line.end}, more};
  if (lines && only_spaces(before)) {
    if (!comma) more.pop_back();
    // The comment that follows the last block on its line stays with it.
    const std::string rest(text.substr(last.end, line.end - last.end));
    return {{last.end, line.end}, comma ? rest + more : "," + rest + more};
  }
  return {{last.end, last.end}, "," + more};
}

// Blocks that are no longer there, from the end of the list.
TextChange cut_off(std::string_view text, const LaidValue& list, std::size_t left) {
  TextSpan cut = {list.items[left].begin, list.items.back().end};
  const TextSpan first = line_at(text, cut.begin), last = line_at(text, cut.end);
  const bool own_line = only_spaces(text.substr(first.begin, cut.begin - first.begin));
  if (list.comma_after.back()) cut.end = text.find(',', cut.end) + 1;
  if (own_line && list.span.end - 1 > last.end) return {{first.begin, line_with_end_at(text, cut.end).end}, ""};
  // On one line: from the end of the last that stays, with the comma between.
  return {{list.items[left - 1].end, cut.end}, ""};
}

}  // namespace

std::string block_text(const BlockAsked& b) {
  std::string out = "{ shape = " + quoted_toml(b.shape);
  if (b.hand != Hand::none) out += fmt::format(", hand = \"{}\"", to_string(b.hand));
  if (b.on) out += fmt::format(", on = {}", *b.on);
  if (b.face) out += ", face = " + quoted_toml(*b.face);
  if (b.turn) out += fmt::format(", turn = {}", *b.turn);
  if (b.at) out += fmt::format(", at = [{}, {}, {}]", b.at->x, b.at->y, b.at->z);
  return out + " }";
}

std::string datum_text(const std::vector<std::string>& faces) {
  std::string out;
  for (const std::string& f : faces) out += (out.empty() ? "" : ", ") + quoted_toml(f);
  return "[" + out + "]";
}

std::string blocks_text(const std::vector<BlockAsked>& blocks, std::string_view indent, std::string_view line_end) {
  std::string out = "[";
  for (const BlockAsked& b : blocks) out += fmt::format("{}{}  {},", line_end, indent, block_text(b));
  return fmt::format("{}{}{}]", out, line_end, indent);
}

std::string piece_text(const PieceAsked& p, std::string_view line_end) {
  std::string out = fmt::format("[[piece]]{}name = {}{}", line_end, quoted_toml(p.name), line_end);
  const auto line = [&](const char* key, const std::string& value) {
    out += fmt::format("{} = {}{}", key, value, line_end);
  };
  if (p.copies != 1) line("copies", fmt::format("{}", p.copies));
  if (p.mirrored_copies != 0) line("mirrored_copies", fmt::format("{}", p.mirrored_copies));
  if (p.optional) line("optional", "true");
  if (p.keep_blocks) line("keep_blocks", "true");
  if (!p.datum.empty()) line("datum", datum_text(p.datum));
  if (p.blocks) line("blocks", blocks_text(*p.blocks, "", line_end));
  return out;
}

std::string changed_text(std::string_view text, std::vector<TextChange> changes) {
  std::stable_sort(changes.begin(), changes.end(),
                   [](const TextChange& a, const TextChange& b) { return a.span.begin < b.span.begin; });
  std::string out;
  std::size_t at = 0;
  for (const TextChange& c : changes) {
    out += text.substr(at, c.span.begin - at);
    out += c.by;
    at = c.span.end;
  }
  return out + std::string(text.substr(at));
}

std::vector<TextChange> block_changes(std::string_view text, const LaidValue& list, const std::vector<BlockAsked>& were,
                                      const std::vector<BlockAsked>& are) {
  std::vector<TextChange> changes;
  const std::size_t both = std::min(were.size(), are.size());
  if (both == 0 || list.items.size() != were.size()) return {{list.span, blocks_text(are, "", line_end_of(text))}};
  for (std::size_t i = 0; i < both; ++i)
    if (were[i] != are[i]) changes.push_back({list.items[i], block_text(are[i])});
  if (are.size() < were.size()) changes.push_back(cut_off(text, list, both));
  if (are.size() > were.size()) changes.push_back(appended(text, list, are));
  return changes;
}

}  // namespace stickwright
