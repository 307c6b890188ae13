#include "design/design_edit.h"

#include <fmt/core.h>

#include <algorithm>

#include "design/design_file.h"
#include "design/piece_text.h"

namespace stickwright {
namespace {

Problem cannot_edit(const std::string& file, const std::string& why) {
  return {"cannot_edit", file, fmt::format("this file is changed by hand only: {}. Nothing was written.", why), ""};
}

bool is_piece(const LaidHeader& h) {
  return h.list && h.path == std::vector<std::string>{"piece"};
}

// The header of each piece, by its index.
std::vector<std::size_t> piece_headers(const TomlLayout& layout) {
  std::vector<std::size_t> out;
  for (std::size_t h = 0; h < layout.headers.size(); ++h)
    if (is_piece(layout.headers[h])) out.push_back(h);
  return out;
}

const LaidKey* key_of(const TomlLayout& layout, std::size_t header, std::string_view name) {
  const auto at = std::find_if(layout.keys.begin(), layout.keys.end(), [&](const LaidKey& k) {
    return k.header == header && k.path.size() == 1 && k.path[0] == name;
  });
  return at == layout.keys.end() ? nullptr : &*at;
}

// A design file as it was, ready to be changed.
struct Draft {
  Design design;
  TomlLayout layout;
  std::vector<std::size_t> headers;  // of the pieces
};

Result<Draft> opened(std::string_view text, const std::string& file) {
  auto design = parse_design(text, file);
  if (!design) return design.problem();
  auto layout = layout_of(text);
  if (!layout) return cannot_edit(file, "its layout is not understood");
  Draft draft{design.take(), std::move(*layout), {}};
  draft.headers = piece_headers(draft.layout);
  if (draft.headers.size() != draft.design.pieces.size())
    return cannot_edit(file, "its pieces do not each begin with [[piece]]");
  return draft;
}

std::vector<std::string> datum_names(const Piece& p) {
  std::vector<std::string> names;
  for (Vec n : p.datum) names.push_back(face_name(n));
  return names;
}

// ---- draft = true ----

std::string with_draft(std::string_view text, bool draft) {
  const auto layout = layout_of(text);
  if (!layout) return std::string(text);
  const LaidKey* key = key_of(*layout, 0, "draft");
  if (key && !draft) return changed_text(text, {{line_with_end_at(text, key->begin), ""}});
  if (key) return changed_text(text, {{key->value.span, "true"}});
  const LaidKey* family = key_of(*layout, 0, "family");
  if (!family || !draft) return std::string(text);
  const std::size_t at = line_at(text, family->value.span.end).end;
  return changed_text(
      text, {{{at, at}, fmt::format("{}draft = true  # the pieces do not fill the goal yet", line_end_of(text))}});
}

struct Settled {
  std::string text;
  Design design;
};

// Reads the new text, as a draft only if it has to be one.
Result<Settled> settle(std::string text, const std::string& file) {
  auto design = parse_design(text, file);
  const bool short_of_goal =
      !design && (design.problem().code == "wrong_volume" || design.problem().code == "wrong_count");
  if (design && (!design.value().draft || !unfilled_in_words(design.value()).empty()))
    return Settled{std::move(text), design.take()};
  if (!design && !short_of_goal) return design.problem();
  text = with_draft(text, short_of_goal);
  design = parse_design(text, file);
  if (!design) return design.problem();
  return Settled{std::move(text), design.take()};
}

// ---- reading again ----

bool same(const Piece& a, const Piece& b) {
  return a.name == b.name && a.copies == b.copies && a.mirrored_copies == b.mirrored_copies && a.cells == b.cells &&
         a.own_blocks == b.own_blocks && a.optional == b.optional && a.datum == b.datum &&
         a.drawn_blocks == b.drawn_blocks;
}

bool as_asked(const Piece& p, const PieceAsked& a) {
  return p.name == a.name && p.copies == a.copies && p.mirrored_copies == a.mirrored_copies &&
         p.optional == a.optional && datum_names(p) == a.datum && (!a.blocks || p.drawn_blocks == *a.blocks) &&
         (p.drawn_blocks.empty() || a.keep_blocks == !p.own_blocks.empty());
}

// The design is as it was but for the pieces: these are `expected`, in order; null is the piece asked for.
bool is_expected(const Design& now, const Design& was, const std::vector<const Piece*>& expected,
                 const PieceAsked* asked) {
  if (now.name != was.name || now.family != was.family || now.pieces.size() != expected.size()) return false;
  if (now.goal_given.has_value() != was.goal_given.has_value() || now.pieces_used != was.pieces_used) return false;
  if (now.goal_given && (now.goal != was.goal || now.may_stay_empty != was.may_stay_empty)) return false;
  for (std::size_t i = 0; i < expected.size(); ++i)
    if (expected[i] ? !same(now.pieces[i], *expected[i]) : !as_asked(now.pieces[i], *asked)) return false;
  return true;
}

Result<std::string> checked(std::string text, const std::string& file, const Design& was,
                            const std::vector<const Piece*>& expected, const PieceAsked* asked) {
  auto settled = settle(std::move(text), file);
  if (!settled) return settled.problem();
  if (!is_expected(settled.value().design, was, expected, asked))
    return cannot_edit(file, "read again, it would not hold what was asked for");
  return settled.take().text;
}

std::vector<const Piece*> pieces_of(const Design& design) {
  std::vector<const Piece*> out;
  for (const Piece& p : design.pieces) out.push_back(&p);
  return out;
}

// ---- one table ----

// Writes the values of one [[piece]] table anew where they differ.
class TableEdit {
 public:
  TableEdit(std::string_view text, const Draft& draft, std::size_t index)
      : text_(text), layout_(draft.layout), header_(draft.headers[index]), was_(draft.design.pieces[index]) {}

  std::string run(const PieceAsked& asked) {
    const LaidKey* name = key_of(layout_, header_, "name");
    if (!name) return "";
    if (was_.name != asked.name) changes_.push_back({name->value.span, quoted_toml(asked.name)});
    insert_at_ = line_at(text_, name->value.span.end).end;
    const TextSpan line = line_at(text_, name->begin);
    indent_ = text_.substr(line.begin, name->begin - line.begin);
    put("copies", was_.copies != asked.copies, fmt::format("{}", asked.copies));
    put("mirrored_copies", was_.mirrored_copies != asked.mirrored_copies, fmt::format("{}", asked.mirrored_copies));
    put("optional", was_.optional != asked.optional, asked.optional ? "true" : "false");
    if (!was_.drawn_blocks.empty() || asked.blocks)
      put("keep_blocks", was_.own_blocks.empty() == asked.keep_blocks, asked.keep_blocks ? "true" : "false");
    put("datum", datum_names(was_) != asked.datum, datum_text(asked.datum));
    if (asked.blocks) put_blocks(*asked.blocks);
    return changed_text(text_, std::move(changes_));
  }

 private:
  void put(const char* name, bool differs, const std::string& value) {
    if (!differs) return;
    if (const LaidKey* key = key_of(layout_, header_, name))
      changes_.push_back({key->value.span, value});
    else
      changes_.push_back(
          {{insert_at_, insert_at_}, fmt::format("{}{}{} = {}", line_end_of(text_), indent_, name, value)});
  }

  void put_blocks(const std::vector<BlockAsked>& asked) {
    if (was_.drawn_blocks == asked) return;
    if (const LaidKey* key = key_of(layout_, header_, "blocks")) {
      for (TextChange& c : block_changes(text_, key->value, was_.drawn_blocks, asked)) changes_.push_back(std::move(c));
      return;
    }
    const LaidKey* cells = key_of(layout_, header_, "cells");
    const std::string value = blocks_text(asked, indent_, line_end_of(text_));
    if (cells)
      changes_.push_back({{cells->begin, cells->value.span.end}, "blocks = " + value});
    else
      put("blocks", true, value);  // what else draws the piece is found when the text is read again
  }

  std::string_view text_;
  const TomlLayout& layout_;
  std::size_t header_;
  const Piece& was_;
  std::size_t insert_at_ = 0;
  std::string_view indent_;
  std::vector<TextChange> changes_;
};

Problem no_such_piece(const Draft& draft, std::size_t index) {
  return {"out_of_range", "piece",
          fmt::format("there is no piece {}: the design has {}, counted from 0.", index, draft.headers.size()), ""};
}

// The headers under a piece, such as [[piece.blocks]], belong to it.
std::size_t header_after(const TomlLayout& layout, std::size_t header) {
  std::size_t h = header + 1;
  while (h < layout.headers.size() && !is_piece(layout.headers[h]) && !layout.headers[h].path.empty() &&
         layout.headers[h].path[0] == "piece")
    ++h;
  return h;
}

TextSpan table_span(std::string_view text, const TomlLayout& layout, std::size_t header) {
  const std::size_t begin = line_at(text, layout.headers[header].span.begin).begin;
  const std::size_t after = header_after(layout, header);
  std::size_t last = layout.headers[after - 1].span.end;
  for (const LaidKey& k : layout.keys)
    if (k.header >= header && k.header < after) last = std::max(last, k.value.span.end);
  TextSpan span = {begin, line_with_end_at(text, last).end};
  // Between two empty lines one of them goes, too.
  const bool empty_before = begin == 0 || line_at(text, begin - 1).begin == line_at(text, begin - 1).end;
  const TextSpan next = line_at(text, span.end);
  if (empty_before && span.end < text.size() && next.begin == next.end) span.end = line_with_end_at(text, span.end).end;
  return span;
}

}  // namespace

Result<std::string> with_piece_changed(std::string_view text, const std::string& file, std::size_t index,
                                       const PieceAsked& asked) {
  const auto draft = opened(text, file);
  if (!draft) return draft.problem();
  if (index >= draft.value().headers.size()) return no_such_piece(draft.value(), index);
  std::vector<const Piece*> expected = pieces_of(draft.value().design);
  expected[index] = nullptr;
  std::string changed = TableEdit(text, draft.value(), index).run(asked);
  if (changed.empty()) return cannot_edit(file, "the piece's name is not written as name = \"...\"");
  const auto header = draft.value().headers[index];
  auto result = checked(std::move(changed), file, draft.value().design, expected, &asked);
  if (!result && header_after(draft.value().layout, header) > header + 1)
    return cannot_edit(file, "the piece has tables of its own, such as [[piece.blocks]]");
  return result;
}

Result<std::string> with_piece_added(std::string_view text, const std::string& file, const PieceAsked& asked) {
  const auto draft = opened(text, file);
  if (!draft) return draft.problem();
  std::vector<const Piece*> expected = pieces_of(draft.value().design);
  expected.push_back(nullptr);
  const std::string_view end = line_end_of(text);
  std::string longer(text);
  if (!longer.ends_with('\n')) longer += end;
  longer += std::string(end) + piece_text(asked, end);
  return checked(std::move(longer), file, draft.value().design, expected, &asked);
}

Result<std::string> with_piece_removed(std::string_view text, const std::string& file, std::size_t index) {
  const auto draft = opened(text, file);
  if (!draft) return draft.problem();
  if (index >= draft.value().headers.size()) return no_such_piece(draft.value(), index);
  std::vector<const Piece*> expected = pieces_of(draft.value().design);
  expected.erase(expected.begin() + static_cast<std::ptrdiff_t>(index));
  const TextSpan span = table_span(text, draft.value().layout, draft.value().headers[index]);
  return checked(changed_text(text, {{span, ""}}), file, draft.value().design, expected, nullptr);
}

Result<std::string> new_design_text(const NewDesign& d, const std::string& file) {
  std::string text = fmt::format("format = 1\nname = {}\nfamily = {}\n", quoted_toml(d.name), quoted_toml(d.family));
  if (d.goal) text += fmt::format("\n[goal]\nsolid = {}\n", quoted_toml(d.goal->solid));
  if (d.goal && d.goal->size != 1) text += fmt::format("size = {}\n", d.goal->size);
  text += fmt::format("\n{}", piece_text(d.piece, "\n"));
  auto settled = settle(std::move(text), file);
  if (!settled) return settled.problem();
  const Design& read = settled.value().design;
  const bool goal = read.goal_given.has_value() == d.goal.has_value() &&
                    (!d.goal || (read.goal_given->solid == d.goal->solid && read.goal_given->size == d.goal->size));
  if (read.name != d.name || read.pieces.size() != 1 || !as_asked(read.pieces[0], d.piece) || !goal)
    return cannot_edit(file, "read again, it would not hold what was asked for");
  return settled.take().text;
}

}  // namespace stickwright
