#include "text/toml_reader.h"

#include <gtest/gtest.h>

#include <random>

namespace stickwright {
namespace {

using namespace std::chrono_literals;

Document document(std::string_view text) {
  auto read = parse_toml(text, "test.toml");
  EXPECT_TRUE(read) << read.problem().say;
  return read.take();
}

TEST(TomlReader, EveryKindIsRead) {
  const Document d = document(R"(
text = "oak"
whole = 7
flag = true
length = "1 1/2 in"
nominal = "1.005 mm"
time = "1.5 h"
share = "8 %"
word = "left"
date = 2031-03-08
clock = "18:30"
triple = [4, -2, 0]
)");
  const Table t = d.root();
  EXPECT_EQ(t.text("text"), "oak");
  EXPECT_EQ(t.integer("whole", {0, 10}), 7);
  EXPECT_TRUE(t.flag("flag"));
  EXPECT_DOUBLE_EQ(t.length("length", {Mm{1}, Mm{100}}).v, 38.1);
  EXPECT_EQ(t.nominal("nominal", {Nm{1}, Nm{2'000'000}}), Nm{1'005'000});
  EXPECT_EQ(t.duration("time", {Seconds{0}, Seconds{86400}}), Seconds{5400});
  EXPECT_DOUBLE_EQ(t.share("share", {0, 1}), 0.08);
  EXPECT_EQ(t.choice("word", {"right", "left"}), 1u);
  EXPECT_EQ(t.date("date"), 2031y / 3 / 8);
  EXPECT_EQ(t.clock("clock"), Seconds{18 * 3600 + 30 * 60});
  EXPECT_EQ(t.triple("triple"), (Vec{4, -2, 0}));
  EXPECT_FALSE(d.finish());
}

TEST(TomlReader, ListsAreRead) {
  const Document d = document(R"(
texts = ["a", "b"]
one = "a"
lengths = ["1 mm", "2 mm"]
triples = [[4, 2, 0], [2, 4, 0]]
lists = [[[4, 2, 0]], [[2, 4, 0], [0, 4, 2]]]
[[piece]]
name = "arm"
[[piece]]
name = "key"
)");
  const Table t = d.root();
  EXPECT_EQ(t.texts("texts"), (std::vector<std::string>{"a", "b"}));
  EXPECT_EQ(t.text_or_texts("one"), (std::vector<std::string>{"a"}));
  EXPECT_EQ(t.lengths("lengths", {Mm{0}, Mm{9}}), (std::vector{Mm{1}, Mm{2}}));
  EXPECT_EQ(t.triples("triples"), (std::vector<Vec>{{4, 2, 0}, {2, 4, 0}}));
  EXPECT_EQ(t.triple_lists("lists").at(1).at(1), (Vec{0, 4, 2}));
  ASSERT_EQ(t.tables("piece").size(), 2u);
  EXPECT_EQ(t.tables("piece")[1].text("name"), "key");
  EXPECT_EQ(t.tables("piece")[0].text("name"), "arm");
  EXPECT_FALSE(d.finish());
}

TEST(TomlReader, FallbacksStandInForMissingKeysAndTables) {
  const Document d = document("");
  const Table t = d.root();
  EXPECT_EQ(t.text_or("a", "x"), "x");
  EXPECT_EQ(t.integer_or("b", {0, 9}, 5), 5);
  EXPECT_EQ(t.length_or("c", {Mm{0}, Mm{9}}, Mm{2}), Mm{2});
  EXPECT_TRUE(t.texts_or_none("d").empty());
  EXPECT_FALSE(t.date_if("e"));
  const Table none = t.table_if("f");
  EXPECT_FALSE(none.present());
  EXPECT_EQ(none.integer_or("g", {0, 9}, 5), 5);
  EXPECT_EQ(none.text("h"), "");
  EXPECT_TRUE(none.keys().empty());
  EXPECT_FALSE(d.finish());
}

TEST(TomlReader, PlacesAreThoseOfKeysValuesAndElements) {
  const Document d = document("# first\n[blade]\nkerf = \"3 mm\"\n\"two words\" = [10, 20]\n");
  const Table t = d.root().table("blade");
  EXPECT_EQ(t.place(), (Place{2, 1}));
  EXPECT_EQ(t.place("kerf"), (Place{3, 8}));
  EXPECT_EQ(t.key_place("kerf"), (Place{3, 1}));
  EXPECT_EQ(t.place("two words", 1), (Place{4, 20}));
  EXPECT_EQ(t.place("not there"), (Place{2, 1}));
  EXPECT_EQ(t.keys(), (std::vector<std::string>{"kerf", "two words"}));
}

TEST(TomlReader, TheFirstProblemInTheFileIsToldWhateverTheOrderOfReading) {
  const Document d = document("a = 1\nb = 2\nc = 3\n");
  const Table t = d.root();
  t.text("c");
  t.text("a");
  t.text("b");
  ASSERT_TRUE(d.finish());
  EXPECT_EQ(d.finish()->where, "test.toml:1:5");
}

TEST(TomlReader, AMistypedKeyIsToldBeforeTheMissingOne) {
  const Document d = document("[blade]\nteeth = 40\nkref = \"3 mm\"\n");
  const Table t = d.root().table("blade");
  t.length("kerf", {Mm{0}, Mm{9}});
  t.integer("teeth", {1, 99});
  EXPECT_FALSE(d.sound());
  const auto problem = d.finish();
  ASSERT_TRUE(problem);
  EXPECT_EQ(problem->code, "unknown_key");
  EXPECT_EQ(problem->where, "test.toml:3:1");
  EXPECT_EQ(problem->say,
            "there is no key \"kref\" here (did you mean \"kerf\"?); [blade] takes the keys \"kerf\" and \"teeth\"");
  EXPECT_EQ(problem->excerpt, "kref = \"3 mm\"\n^");
}

TEST(TomlReader, SoundTellsOfWrongAndMissingValuesOnly) {
  const Document d = document("a = \"x\"\nunknown = 1\n");
  d.root().text("a");
  EXPECT_TRUE(d.sound());
  d.root().text("b");
  EXPECT_FALSE(d.sound());
}

TEST(TomlReader, ReportCompetesWithTheOtherProblems) {
  const Document d = document("a = \"x\"\nb = [1, 2]\nc = 1\n");
  const Table t = d.root();
  t.text("a");
  t.integers("b", {0, 9});
  t.text("c");
  t.report("b", 1, "my_code", "my words");
  const auto problem = d.finish();
  ASSERT_TRUE(problem);
  EXPECT_EQ(problem->code, "my_code");
  EXPECT_EQ(problem->where, "test.toml:2:9");
  EXPECT_EQ(t.problem_at("a", "late", "found later").where, "test.toml:1:5");
}

TEST(TomlReader, ExactlyOneOf) {
  const auto code = [](std::string_view text) {
    const Document d = document(text);
    d.root().exactly_one_of({"blocks", "stick", "cells"});
    return d.finish() ? d.finish()->code : "";
  };
  EXPECT_EQ(code("stick = 1"), "");
  EXPECT_EQ(code(""), "missing_key");
  EXPECT_EQ(code("stick = 1\ncells = 2"), "too_many_keys");
}

TEST(TomlReader, TriplesAreCheckedElementByElement) {
  const auto problem = [](std::string_view text) {
    const Document d = document(text);
    d.root().triples("cells");
    return d.finish().value_or(Problem{});
  };
  EXPECT_EQ(problem("cells = [[1, 2, 3], [1, 2]]").where, "test.toml:1:21");
  EXPECT_EQ(problem("cells = [[1, 2, 3], [1, 2]]").code, "bad_count");
  EXPECT_EQ(problem("cells = [[1, 2, 3.5]]").code, "wrong_type");
  EXPECT_EQ(problem("cells = [[1, 2, 65537]]").code, "out_of_range");
  EXPECT_EQ(problem("cells = [[1, 2, 65536]]").code, "");
  EXPECT_EQ(problem("cells = [1, 2, 3]").code, "wrong_type");
  EXPECT_EQ(problem("cells = []").code, "bad_count");
}

TEST(TomlReader, TripleListsMayNotBeFlatOrEmpty) {
  for (const char* text : {"blocks = [[1, 2, 3]]", "blocks = []", "blocks = [[]]", "blocks = 1"}) {
    const Document d = document(text);
    d.root().triple_lists("blocks");
    ASSERT_TRUE(d.finish()) << text;
    EXPECT_EQ(d.finish()->code, "wrong_type") << text;
  }
}

TEST(TomlReader, AByteOrderMarkAndCrLfChangeNoPlace) {
  const Document d = document(
      "\xEF\xBB\xBF"
      "a = 1\r\nb = 2\r\n");
  d.root().integer("a", {0, 9});
  d.root().text("b");
  ASSERT_TRUE(d.finish());
  EXPECT_EQ(d.finish()->where, "test.toml:2:5");
  EXPECT_EQ(d.finish()->excerpt, "b = 2\n    ^");
}

TEST(TomlReader, ColumnsAreCountedInCharacters) {
  const Document d = document("a = { \"\xC3\xBC\" = 1 }\n");
  d.root().table("a").text("\xC3\xBC");
  EXPECT_EQ(d.finish()->where, "test.toml:1:13");
  EXPECT_EQ(d.finish()->excerpt, "a = { \"\xC3\xBC\" = 1 }\n            ^");
}

TEST(TomlReader, NotUtf8IsRefusedAtItsPlace) {
  for (const char* bad : {"\xFF", "\xC3", "\xC0\x80", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xE2\x82"}) {
    const auto read = parse_toml("a = 1\nb = \"" + std::string(bad) + "\"\n", "test.toml");
    ASSERT_FALSE(read);
    EXPECT_EQ(read.problem().code, "bad_toml");
    EXPECT_EQ(read.problem().where, "test.toml:2:6");
  }
}

TEST(TomlReader, DeepNestingIsRefused) {
  EXPECT_FALSE(parse_toml("a = " + std::string(100'000, '['), "test.toml"));
}

// Short files that once stopped the TOML library in its header-only form.
TEST(TomlReader, BrokenHeadersAreRefused) {
  for (const char* text : {"[\n", "[[\n", "[a", "[a.", "\xC3\xBC = 1", "a.\n", "a = \"\n", "a = '''", "= 1"})
    EXPECT_FALSE(parse_toml(text, "test.toml")) << text;
}

// Random damage to a file (seed 5): read or refused, never a crash.
TEST(TomlReader, DamagedFilesAreReadOrRefused) {
  const std::string good =
      "format = 1\nname = \"x\"\n[blade]\nkerf = \"3 mm\"\ncells = [[1, 2, 3]]\n[[p]]\nd = 2031-03-08\n";
  std::mt19937 random(5);
  for (int k = 0; k < 3000; ++k) {
    std::string text = good;
    for (int i = 0; i < 3; ++i) text[random() % text.size()] = static_cast<char>(random() % 256);
    const auto read = parse_toml(text, "test.toml");
    if (!read) continue;
    const Table t = read.value().root();
    t.format(1);
    t.text("name");
    t.table("blade").triples("cells");
    for (const Table& p : t.tables_or_none("p")) p.date("d");
    EXPECT_TRUE(read.value().finish());  // at least [blade] kerf was not asked for
  }
}

}  // namespace
}  // namespace stickwright
