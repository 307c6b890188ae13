#include "metrology/gauge_set.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

namespace stickwright {
namespace {

// `count` sizes from `first` on, `step` apart; in tenths of a micrometer or in tens of microinches.
struct Run {
  int first, step, count;
};

constexpr std::int64_t kTenthMicrometer = 100;  // nm
constexpr std::int64_t kTenMicroinches = 254;   // nm

struct Composition {
  std::string_view name;
  GaugeSystem system;
  std::vector<Run> runs;
};

const std::vector<Composition>& compositions() {
  using enum GaugeSystem;
  static const std::vector<Composition> all = {
      {"mm 32",
       metric,
       {{10050, 0, 1}, {10100, 100, 9}, {11000, 1000, 9}, {10000, 10000, 9}, {100000, 100000, 3}, {600000, 0, 1}}},
      {"mm 46", metric, {{10010, 10, 9}, {10100, 100, 9}, {11000, 1000, 9}, {10000, 10000, 9}, {100000, 100000, 10}}},
      {"mm 47 (a)",
       metric,
       {{10050, 0, 1}, {10100, 100, 9}, {11000, 1000, 9}, {10000, 10000, 24}, {250000, 250000, 4}}},
      {"mm 47 (b)",
       metric,
       {{10050, 0, 1}, {10100, 100, 19}, {12000, 1000, 8}, {10000, 10000, 9}, {100000, 100000, 10}}},
      {"mm 76", metric, {{10050, 0, 1}, {10100, 100, 49}, {5000, 5000, 19}, {100000, 100000, 4}, {500000, 250000, 3}}},
      {"mm 87", metric, {{10010, 10, 9}, {10100, 100, 49}, {5000, 5000, 19}, {100000, 100000, 10}}},
      {"mm 88", metric, {{10005, 0, 1}, {10010, 10, 9}, {10100, 100, 49}, {5000, 5000, 19}, {100000, 100000, 10}}},
      {"mm 103", metric, {{10050, 0, 1}, {10100, 100, 49}, {5000, 5000, 49}, {250000, 250000, 4}}},
      {"mm 112", metric, {{10005, 0, 1}, {10010, 10, 9}, {10100, 100, 49}, {5000, 5000, 49}, {250000, 250000, 4}}},
      {"mm 122",
       metric,
       {{10005, 0, 1},
        {10010, 10, 9},
        {10100, 100, 49},
        {16000, 1000, 4},
        {5000, 5000, 49},
        {250000, 500000, 2},
        {300000, 100000, 8}}},
      {"inch 28 thin", inch, {{2005, 0, 1}, {2010, 10, 9}, {2100, 100, 9}, {1000, 1000, 9}}},
      {"inch 36",
       inch,
       {{10010, 10, 9},
        {10100, 100, 9},
        {11000, 1000, 9},
        {5000, 0, 1},
        {10000, 10000, 5},
        {100000, 100000, 2},
        {400000, 0, 1}}},
      {"inch 81", inch, {{10010, 10, 9}, {10100, 100, 49}, {5000, 5000, 19}, {100000, 100000, 4}}},
  };
  return all;
}

// One row of a tolerance table: blocks up to this size may deviate by so much, one column a grade.
struct Row {
  std::int64_t up_to_nm;
  std::array<double, 4> deviation;
};

struct Table {
  std::vector<std::string_view> grades;
  std::vector<Row> rows;
  double unit_nm;
  std::string_view longest;
};

const Table& table_of(GaugeSystem system) {
  // ISO 3650:1998, grades 0, 1 and 2 as printed in the DIN 861 table; column K from memory. Micrometers.
  static const Table metric = {{"K", "0", "1", "2"},
                               {{10'000'000, {0.20, 0.12, 0.20, 0.45}},
                                {25'000'000, {0.30, 0.14, 0.30, 0.60}},
                                {50'000'000, {0.40, 0.20, 0.40, 0.80}},
                                {75'000'000, {0.50, 0.25, 0.50, 1.00}},
                                {100'000'000, {0.60, 0.30, 0.60, 1.20}},
                                {150'000'000, {0.80, 0.40, 0.80, 1.60}},
                                {200'000'000, {1.00, 0.50, 1.00, 2.00}},
                                {250'000'000, {1.20, 0.60, 1.20, 2.40}}},
                               1000,
                               "250 mm"};
  // ASME B89.1.9-2002, from memory. Microinches.
  static const Table inch = {{"0", "AS-1", "AS-2"},
                             {{1'270'000, {6, 12, 24}},
                              {10'160'000, {5, 8, 18}},
                              {25'400'000, {6, 12, 24}},
                              {50'800'000, {8, 16, 32}},
                              {76'200'000, {10, 20, 40}},
                              {101'600'000, {12, 24, 48}}},
                             25.4,
                             "4 in"};
  return system == GaugeSystem::metric ? metric : inch;
}

Problem unknown_grade(std::string_view grade, GaugeSystem system) {
  return {"unknown_grade", std::string(grade),
          fmt::format("\"{}\" is no grade of {} gauge blocks here. There are: {}.", grade,
                      system == GaugeSystem::metric ? "metric" : "inch", fmt::join(table_of(system).grades, ", ")),
          ""};
}

Problem unknown_set(std::string_view name) {
  return {"unknown_gauge_set", std::string(name),
          fmt::format("There is no gauge-block set \"{}\". There are: {}. Any other set is given by its sizes.", name,
                      fmt::join(gauge_set_names(), ", ")),
          ""};
}

Problem empty_set() {
  return {"empty_set", "", "A gauge-block set needs at least one block.", ""};
}

std::vector<Nm> sizes_of(const Composition& c) {
  const std::int64_t unit = c.system == GaugeSystem::metric ? kTenthMicrometer : kTenMicroinches;
  std::vector<Nm> sizes;
  for (const Run& run : c.runs)
    for (int i = 0; i < run.count; ++i) sizes.push_back(Nm{unit * (run.first + i * run.step)});
  return sizes;
}

// "22 mm (0.86614 in) and 24 mm (0.94488 in)": the neighbors of a size that is not in the set.
std::string neighbors(const GaugeSet& set, Nm size) {
  const GaugeBlock* below = nullptr;
  const GaugeBlock* above = nullptr;
  for (const GaugeBlock& b : set.blocks) {
    if (b.size < size && (!below || b.size > below->size)) below = &b;
    if (b.size > size && (!above || b.size < above->size)) above = &b;
  }
  if (below && above) return show_nominal(below->size) + " and " + show_nominal(above->size);
  return below || above ? show_nominal((below ? below : above)->size) : "none";
}

Problem no_such_block(const GaugeSet& set, Nm size) {
  return {"no_such_block", show_nominal(size),
          fmt::format("The set \"{}\" has no (further) block of {}. The nearest sizes it has: {}.", set.name,
                      show_nominal(size), neighbors(set, size)),
          ""};
}

Problem bad_worn_block(const WornBlock& w) {
  return {
      "bad_worn_block", show_nominal(w.engraved),
      fmt::format("A block engraved {} cannot be {}: a block wears by less than {}. Correct the length, or take the "
                  "block out of the set.",
                  show_nominal(w.engraved), show_nominal(w.is), show_nominal(kMostWear)),
      ""};
}

}  // namespace

std::string show_nominal(Nm size) {
  const double nm = static_cast<double>(size.v);
  if (std::abs(nm) < 1e5) return fmt::format("{:.12g} um ({:.4g} uin)", nm / 1e3, nm / 25.4);
  return fmt::format("{:.15g} mm ({:.5f} in)", nm / 1e6, nm / 25.4e6);
}

std::vector<std::string_view> gauge_set_names() {
  std::vector<std::string_view> names;
  for (const Composition& c : compositions()) names.push_back(c.name);
  return names;
}

std::vector<std::string_view> gauge_grades(GaugeSystem system) {
  return table_of(system).grades;
}

Result<Nm> gauge_tolerance(Nm size, std::string_view grade, GaugeSystem system) {
  const Table& table = table_of(system);
  const auto column = std::find(table.grades.begin(), table.grades.end(), grade);
  if (column == table.grades.end()) return unknown_grade(grade, system);
  const auto row =
      std::find_if(table.rows.begin(), table.rows.end(), [&](const Row& r) { return size.v <= r.up_to_nm; });
  if (size.v <= 0 || row == table.rows.end())
    return Problem{"bad_block_size", show_nominal(size),
                   fmt::format("A gauge block of {} has no tolerance here: the table runs from above 0 to {}.",
                               show_nominal(size), table.longest),
                   ""};
  const double deviation = row->deviation[static_cast<std::size_t>(column - table.grades.begin())];
  return Nm{std::llround(deviation * table.unit_nm)};
}

Result<GaugeSet> custom_gauge_set(std::span<const Nm> sizes, std::string_view grade, GaugeSystem system) {
  if (sizes.empty()) return empty_set();
  if (sizes.size() > kMostGaugeBlocks)
    return Problem{"too_many_blocks", "",
                   fmt::format("{} blocks in one set; up to {} are possible. Leave out sizes that are not used.",
                               sizes.size(), kMostGaugeBlocks),
                   ""};
  GaugeSet set{"own", std::string(grade), {}};
  for (const Nm size : sizes) {
    const auto tolerance = gauge_tolerance(size, grade, system);
    if (!tolerance) return tolerance.problem();
    set.blocks.push_back({size, tolerance.value()});
  }
  return set;
}

Result<GaugeSet> standard_gauge_set(std::string_view name, std::string_view grade) {
  const auto& all = compositions();
  const auto found = std::find_if(all.begin(), all.end(), [&](const Composition& c) { return c.name == name; });
  if (found == all.end()) return unknown_set(name);
  auto set = custom_gauge_set(sizes_of(*found), grade, found->system);
  if (!set) return set;
  GaugeSet named = set.take();
  named.name = name;
  return named;
}

Result<GaugeSet> without(const GaugeSet& set, std::span<const Nm> missing) {
  GaugeSet rest = set;
  for (const Nm size : missing) {
    const auto lost =
        std::find_if(rest.blocks.begin(), rest.blocks.end(), [&](const GaugeBlock& b) { return b.size == size; });
    if (lost == rest.blocks.end()) return no_such_block(rest, size);
    rest.blocks.erase(lost);
  }
  if (rest.blocks.empty()) return empty_set();
  if (!missing.empty()) rest.name += fmt::format(", {} missing", missing.size());
  return rest;
}

Result<GaugeSet> with_worn(const GaugeSet& set, std::span<const WornBlock> worn) {
  GaugeSet known = set;
  for (const WornBlock& w : worn) {
    // Of two blocks of one size the second entry means the second.
    const auto block = std::find_if(known.blocks.begin(), known.blocks.end(),
                                    [&](const GaugeBlock& b) { return b.engraved.v == 0 && b.size == w.engraved; });
    if (block == known.blocks.end()) return no_such_block(known, w.engraved);
    if (std::abs((w.is - w.engraved).v) > kMostWear.v || w.is.v <= 0 || w.give_or_take.v < 0) return bad_worn_block(w);
    *block = {w.is, w.give_or_take, w.engraved};
  }
  if (!worn.empty()) known.name += fmt::format(", {} worn", worn.size());
  return known;
}

Nm engraved(const GaugeBlock& block) {
  return block.engraved.v > 0 ? block.engraved : block.size;
}

GaugeSet as_engraved(const GaugeSet& set) {
  GaugeSet plain = set;
  for (GaugeBlock& b : plain.blocks) b.size = engraved(b);
  return plain;
}

}  // namespace stickwright
