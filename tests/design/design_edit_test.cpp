// One piece changes in the text of a design, and nothing else does.
#include "design/design_edit.h"

#include <gtest/gtest.h>

#include <fstream>
#include <random>

#include "design/design_file.h"
#include "text/toml_layout.h"

namespace stickwright {
namespace {

std::string file_text(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::string star() {
  return file_text(STICKWRIGHT_SOURCE "/examples/wrenfield/star.toml");
}

// What the file says of a piece now.
PieceAsked as_it_is(const Piece& p) {
  PieceAsked a{p.name, p.copies, p.mirrored_copies, p.optional, !p.own_blocks.empty(), {}, {}};
  for (Vec n : p.datum) a.datum.push_back(face_name(n));
  if (!p.drawn_blocks.empty()) a.blocks = p.drawn_blocks;
  return a;
}

Design read(const std::string& text) {
  auto d = parse_design(text, "d");
  EXPECT_TRUE(d) << d.problem().say << "\n" << text;
  return d.take();
}

TEST(DesignEdit, APieceReplacedByItselfLeavesEveryByte) {
  for (const char* file : {"wrenfield/star.toml", "wrenfield/second.toml", "cells/star.toml"}) {
    const std::string text = file_text(std::string(STICKWRIGHT_SOURCE "/examples/") + file);
    const auto same = with_piece_changed(text, file, 0, as_it_is(read(text).pieces[0]));
    ASSERT_TRUE(same) << same.problem().say;
    EXPECT_EQ(same.value(), text);
  }
}

TEST(DesignEdit, OneValueChangesAndItsCommentStays) {
  const std::string text = star();
  PieceAsked a = as_it_is(read(text).pieces[0]);
  a.datum = {"+x+y"};
  std::string expected = text;
  const std::string was = "[\"+x+y\", \"+x-y\"]";
  expected.replace(expected.find(was), was.size(), "[\"+x+y\"]");
  EXPECT_EQ(with_piece_changed(text, "d", 0, a).value(), expected);
}

TEST(DesignEdit, ADesignHalfBuiltIsADraftUntilItFillsItsGoal) {
  const std::string text = star();
  const PieceAsked whole = as_it_is(read(text).pieces[0]);
  PieceAsked half = whole;
  half.blocks->pop_back();
  const auto draft = with_piece_changed(text, "d", 0, half);
  ASSERT_TRUE(draft) << draft.problem().say;
  EXPECT_TRUE(read(draft.value()).draft);
  EXPECT_EQ(unfilled_in_words(read(draft.value())), "12 cells of the goal are not filled yet");
  const auto back = with_piece_changed(draft.value(), "d", 0, whole);
  ASSERT_TRUE(back) << back.problem().say;
  EXPECT_EQ(back.value(), text) << "the draft mark is gone, the last block stands where it stood";
}

TEST(DesignEdit, BlocksThatStayKeepTheirTextAndComments) {
  const std::string head = "format = 1\nname = \"d\"\nfamily = \"mitered\"\n\n[[piece]]\nname = \"p\"\n";
  const std::string first = "blocks = [\n\t{ shape='squat octahedron' }, # the middle ]\n";
  const std::string second =
      "\t{ on = 1, shape = \"rhombic pyramid block\", face = \"+x+z\", turn = 1 } # a wing\n]  # end\n";
  PieceAsked a = as_it_is(read(head + first + second).pieces[0]);
  a.blocks->push_back(a.blocks->back());
  a.blocks->back().face = "+x-z";
  const auto longer = with_piece_changed(head + first + second, "d", 0, a);
  ASSERT_TRUE(longer) << longer.problem().say;
  EXPECT_EQ(longer.value(),
            head + first +
                "\t{ on = 1, shape = \"rhombic pyramid block\", face = \"+x+z\", turn = 1 }, # a wing\n"
                "\t{ shape = \"rhombic pyramid block\", on = 1, face = \"+x-z\", turn = 1 }\n]  # end\n");
  a.blocks->resize(1);
  EXPECT_EQ(with_piece_changed(longer.value(), "d", 0, a).value(), head + first + "]  # end\n");
}

TEST(DesignEdit, CellsAreReplacedByBlocks) {
  const std::string text = file_text(STICKWRIGHT_SOURCE "/examples/cells/star.toml");
  PieceAsked a = as_it_is(read(text).pieces[0]);
  a.blocks = read(star()).pieces[0].drawn_blocks;
  const auto changed = with_piece_changed(text, "d", 0, a);
  ASSERT_TRUE(changed) << changed.problem().say;
  EXPECT_EQ(shape_of(mitered(), read(changed.value()).pieces[0].cells).shape,
            shape_of(mitered(), read(text).pieces[0].cells).shape);
}

TEST(DesignEdit, WhatADesignMayNotHoldIsRefused) {
  const std::string text = star();
  PieceAsked a = as_it_is(read(text).pieces[0]);
  a.blocks->push_back(a.blocks->back());
  EXPECT_EQ(with_piece_changed(text, "d", 0, a).problem().code, "no_way_to_glue");
  a = as_it_is(read(text).pieces[0]);
  EXPECT_EQ(with_piece_added(text, "d", a).problem().code, "name_twice");
  EXPECT_EQ(with_piece_changed(text, "d", 1, a).problem().code, "out_of_range");
  EXPECT_EQ(with_piece_removed(text, "d", 0).problem().code, "missing_key");
  a.copies = 0;
  EXPECT_EQ(with_piece_changed(text, "d", 0, a).problem().code, "out_of_range");
  EXPECT_EQ(with_piece_changed("format = 1\nname = ", "d", 0, a).problem().code, "bad_toml");
}

TEST(DesignEdit, PiecesWrittenInAnotherWayAreLeftToTheMaker) {
  const std::string head = "format = 1\nname = \"d\"\nfamily = \"mitered\"\n";
  const std::string in_line = head + "piece = [ { name = \"p\", cells = [[4, 2, 0]] } ]\n";
  EXPECT_EQ(with_piece_changed(in_line, "d", 0, as_it_is(read(in_line).pieces[0])).problem().code, "cannot_edit");
  const std::string tables = head + "[[piece]]\nname = \"p\"\n[[piece.blocks]]\nshape = \"squat octahedron\"\n";
  PieceAsked a = as_it_is(read(tables).pieces[0]);
  EXPECT_EQ(with_piece_changed(tables, "d", 0, a).value(), tables);
  a.blocks->front().shape = "center block";
  EXPECT_EQ(with_piece_changed(tables, "d", 0, a).problem().code, "cannot_edit");
}

TEST(DesignEdit, ANameWithQuotesAndBackslashesIsReadAsItWasGiven) {
  PieceAsked a = as_it_is(read(star()).pieces[0]);
  a.name = "the \"long\" \\ arm [[piece]] # one";
  const auto text = with_piece_changed(star(), "d", 0, a);
  ASSERT_TRUE(text) << text.problem().say;
  EXPECT_EQ(read(text.value()).pieces[0].name, a.name);
}

TEST(DesignEdit, ANewDesignHoldsItsGoalAndFirstPiece) {
  PieceAsked a = as_it_is(read(star()).pieces[0]);
  const auto text =
      new_design_text({"mine", "mitered", GoalGiven{"first stellation of the rhombic dodecahedron", 1}, a}, "d");
  ASSERT_TRUE(text) << text.problem().say;
  EXPECT_FALSE(read(text.value()).draft);
  EXPECT_EQ(read(text.value()).pieces[0].cells, read(star()).pieces[0].cells);
  a.copies = 1;
  const auto draft =
      new_design_text({"mine", "mitered", GoalGiven{"first stellation of the rhombic dodecahedron", 1}, a}, "d");
  EXPECT_TRUE(read(draft.value()).draft);
  EXPECT_EQ(new_design_text({"mine", "mitered", GoalGiven{"cube", 1}, a}, "d").problem().code, "unknown_solid");
  EXPECT_FALSE(read(new_design_text({"mine", "mitered", {}, a}, "d").value()).goal_given);
}

// ---- random files ----

class RandomFile {
 public:
  explicit RandomFile(unsigned seed) : random_(seed), end_(pick(2) ? "\r\n" : "\n") {}

  std::string text() {
    std::string out = pick(4) == 0 ? "\xEF\xBB\xBF" : "";
    out += "format = 1" + comment() + line() + "name = " + name("design") + line() + "family = 'mitered'" + comment() +
           line();
    if (pick(2))
      out += end_ + "[goal] " + comment() + "solid = \"first stellation of the rhombic dodecahedron\"" + end_;
    goal_ = out.find("[goal]") != std::string::npos;
    out.insert(out.find("family"), goal_ ? "draft = true" + end_ : "");
    pieces_ = goal_ ? 1 + pick(4) : 1;
    for (unsigned i = 0; i < pieces_; ++i) out += piece(i);
    if (pick(2)) out += "# the end [[piece]]";
    return out;
  }
  unsigned pieces() const { return pieces_; }
  bool goal() const { return goal_; }

 private:
  unsigned pick(unsigned n) { return static_cast<unsigned>(random_()) % n; }
  std::string comment() {
    static const std::vector<std::string> all = {"", "  # [[piece]]", "\t# \"quote ' and = [", " #"};
    return all[pick(4)] + end_;
  }
  std::string line() { return pick(3) ? "" : "# name = \"no piece\"" + end_ + "\t" + end_; }
  std::string space() { return pick(3) ? " " : pick(2) ? "\t" : ""; }
  std::string name(const std::string& base) {
    static const std::vector<std::string> all = {"\"{}\"", "'{} [[piece]]'", "\"{} \\\" # ]]\"",
                                                 "\"\"\"{} \"x\"\"\"\""};
    std::string out = all[pick(4)];
    return out.replace(out.find("{}"), 2, base) + comment();
  }
  std::string piece(unsigned i) {
    std::string out = end_ + line() + (pick(3) ? "" : "  ") + "[[piece]]" + comment();
    std::vector<std::string> keys = {"name" + space() + "=" + space() + name("p" + std::to_string(i))};
    if (goal_ && pick(2)) keys.push_back("copies =" + space() + std::to_string(1 + pick(3)) + comment());
    if (pick(3) == 0) keys.push_back("keep_blocks = true" + comment());
    if (goal_ && pick(3) == 0) keys.push_back("optional=true" + comment());
    keys.push_back(blocks());
    std::shuffle(keys.begin(), keys.end(), random_);
    for (const std::string& k : keys) out += (pick(3) ? "" : "\t") + k;
    return out;
  }
  std::string blocks() {
    static const std::vector<std::string> all = {
        "{ shape = \"squat octahedron\" }", "{shape='rhombic pyramid block', on=1, face = \"+x+z\", turn = 1}",
        "{ on = 1, face = '+x-z', turn = 1, shape = \"rhombic pyramid block\" }"};
    const unsigned n = 1 + pick(3);
    const bool lines = pick(2);
    std::string out = "blocks =" + space() + "[" + (lines ? comment() : "");
    for (unsigned i = 0; i < n; ++i) {
      out += space() + all[i] + space() + (i + 1 < n || pick(2) ? "," : "");
      if (lines) out += comment() + (pick(3) ? "" : "  # between [" + end_);
    }
    return out + "]" + comment();
  }

  std::mt19937 random_;
  std::string end_;
  unsigned pieces_ = 0;
  bool goal_ = false;
};

class RandomDesigns : public testing::TestWithParam<unsigned> {};

// Every comment of the old text that is not inside the removed lines is in the new one, in order.
void expect_change_within(const std::string& was, const std::string& is, std::size_t most) {
  std::size_t front = 0, back = 0;
  while (front < std::min(was.size(), is.size()) && was[front] == is[front]) ++front;
  while (back < std::min(was.size(), is.size()) - front && was[was.size() - 1 - back] == is[is.size() - 1 - back])
    ++back;
  EXPECT_LE(was.size() - front - back, most) << was << "\n---\n" << is;
}

TEST_P(RandomDesigns, APieceReplacedByItselfChangesNothing) {
  RandomFile file(GetParam());
  const std::string text = file.text();
  const Design d = read(text);
  ASSERT_EQ(d.pieces.size(), file.pieces());
  for (std::size_t i = 0; i < d.pieces.size(); ++i) {
    const auto same = with_piece_changed(text, "d", i, as_it_is(d.pieces[i]));
    ASSERT_TRUE(same) << same.problem().say << "\n" << text;
    // A draft that fills its goal loses its mark with the save.
    const bool stays = !d.draft || !unfilled_in_words(d).empty();
    EXPECT_TRUE(!stays || same.value() == text) << same.value() << "\n---\n" << text;
  }
}

// The text before a piece, less the mark of a draft, and the text from the next piece on.
std::pair<std::string, std::string> around(const std::string& text, std::size_t piece) {
  const auto layout = layout_of(text);
  std::vector<std::size_t> begins;
  for (const LaidHeader& h : layout->headers)
    if (h.list) begins.push_back(h.span.begin);
  std::string before = text.substr(0, begins[piece]);
  if (const auto draft = before.find("draft = true"); draft != std::string::npos) {
    const TextSpan line = line_with_end_at(before, draft);
    before.erase(line.begin, line.end - line.begin);
  }
  return {before, piece + 1 < begins.size() ? text.substr(begins[piece + 1]) : ""};
}

TEST_P(RandomDesigns, AChangedPieceIsReadAsAskedAndTheTextAroundItStays) {
  RandomFile file(GetParam());
  const std::string text = file.text();
  const Design d = read(text);
  std::mt19937 random(GetParam());
  for (std::size_t i = 0; i < d.pieces.size(); ++i) {
    PieceAsked a = as_it_is(d.pieces[i]);
    a.keep_blocks = !a.keep_blocks;
    auto changed = with_piece_changed(text, "d", i, a);
    ASSERT_TRUE(changed) << changed.problem().say << "\n" << text;
    if (file.goal() && read(changed.value()).draft) expect_change_within(text, changed.value(), 5);
    a.blocks->resize(1 + random() % 3, (*a.blocks)[0]);
    for (std::size_t k = 1; k < a.blocks->size(); ++k)
      (*a.blocks)[k] = {"rhombic pyramid block", Hand::none, 1, k == 1 ? "+x+z" : "+x-z", 1, {}};
    changed = with_piece_changed(text, "d", i, a);
    ASSERT_TRUE(changed) << changed.problem().say << "\n" << text;
    EXPECT_EQ(read(changed.value()).pieces[i].drawn_blocks, *a.blocks);
    const auto [before, behind] = around(text, i);
    EXPECT_EQ(around(changed.value(), i), std::pair(before, behind)) << changed.value();
  }
}

TEST_P(RandomDesigns, APieceAddedAndRemovedAgainLeavesTheFileAsItWas) {
  RandomFile file(GetParam());
  const std::string text = file.text();
  const Design d = read(text);
  if (!file.goal() || !read(text).draft || unfilled_in_words(d).empty()) return;
  PieceAsked a{
      "one more", 1, 0, true, false, {}, std::vector<BlockAsked>{{"squat octahedron", Hand::none, {}, {}, {}, {}}}};
  const auto more = with_piece_added(text, "d", a);
  ASSERT_TRUE(more) << more.problem().say << "\n" << text;
  EXPECT_TRUE(more.value().starts_with(text) || !read(more.value()).draft);
  const auto back = with_piece_removed(more.value(), "d", d.pieces.size());
  ASSERT_TRUE(back) << back.problem().say;
  EXPECT_TRUE(!read(more.value()).draft || back.value().starts_with(text)) << back.value();
  for (std::size_t i = 0; d.pieces.size() > 1 && i < d.pieces.size(); ++i) {
    const auto less = with_piece_removed(text, "d", i);
    ASSERT_TRUE(less) << less.problem().say << "\n" << text;
    EXPECT_EQ(read(less.value()).pieces.size(), d.pieces.size() - 1);
  }
}

INSTANTIATE_TEST_SUITE_P(Files, RandomDesigns, testing::Range(0u, 40u));

}  // namespace
}  // namespace stickwright
