#include "jig/materials.h"

#include <fmt/core.h>

#include <algorithm>
#include <cctype>

#include "text/nearest.h"

namespace stickwright {
namespace {

constexpr const char* kMemory = "from memory";
constexpr const char* kCallister =
    "Callister, Fundamentals of Materials Science and Engineering, 3rd edition, Table B.6";

Estimate range(double least, double most, std::string source) {
  return within((least + most) / 2, (most - least) / 2, Spread::rectangular, std::move(source));
}

Estimate gigapascals(double least, double most, std::string source) {
  return range(least * 1000, most * 1000, std::move(source));
}

Estimate per_million(double least, double most, std::string source) {
  return range(least * 1e-6, most * 1e-6, std::move(source));
}

Estimate none() {
  return within(0, 0, Spread::rectangular, "takes up no moisture");
}

std::vector<Material> plastics() {
  return {
      {"acetal", gigapascals(2.6, 3.1, kMemory), range(0.35, 0.40, kMemory),
       per_million(85, 110, "two published property tables, 85 and 106.5; upper end from memory"),
       // 0.02 to 0.05 % of the length at 50 % relative humidity.
       per_million(4, 10, kMemory)},
      {"HDPE", gigapascals(0.8, 1.4, "1.08 GPa and the width of the range from memory"), range(0.42, 0.46, kMemory),
       per_million(106, 198, kCallister), range(0, 0, "negligible, from memory")},
      {"UHMW polyethylene", gigapascals(0.5, 0.9, "0.69 GPa and the width of the range from memory"),
       range(0.42, 0.46, kMemory),
       per_million(130, 360, std::string(kCallister) + ", 234 to 360, and another table, 130 to 200"),
       range(0, 0, "negligible, from memory")},
  };
}

std::vector<Material> metals() {
  return {
      {"aluminum 5083 plate",
       gigapascals(70.3, 71,
                   "data sheets of 5083-H32 and 5083-H116: tension, mean of tension "
                   "and compression"),
       range(0.32, 0.34, kMemory),
       per_million(22.3, 25, "data sheets of 5083-H32 and 5083-H116, 23.8 from 20 to 100 C; other sheets 22.3 and 25"),
       none()},
      {"steel", gigapascals(205, 210, "published data sheets"), range(0.27, 0.30, kMemory),
       per_million(9.5, 13.5, "JCGM 100:2008, H.1.3.3: 11.5 within 2"), none()},
  };
}

std::vector<Material> sheets_and_wood() {
  return {
      {"hardwood along the grain", gigapascals(0.6, 1.6, kMemory), range(0.3, 0.45, kMemory),
       per_million(3.1, 4.5, "Wood Handbook, FPL-GTR-190 (2010), p. 4-14, from memory"),
       // 0.1 to 0.2 % over 30 % of moisture content, of which 1 % of relative humidity is worth 0.17 %.
       per_million(5.5, 11, "Wood Handbook, FPL-GTR-190 (2010), p. 4-5 and Table 4-2")},
      {"MDF", gigapascals(0.08, 0.25, kMemory), range(0.2, 0.3, kMemory), per_million(10, 12, kMemory),
       // 0.3 % from 30 to 90 % relative humidity; the width is assumed.
       per_million(40, 60, "published data sheets, 50 for each percent; the width is assumed")},
      {"plywood", gigapascals(0.4, 1.0, kMemory), range(0.2, 0.4, kMemory),
       per_million(4.6, 7.6, "published data sheets, 6.1; the width is assumed"),
       per_million(10, 30, "published rule, 0.02 % of the length for 10 % relative humidity; the width is assumed")},
  };
}

std::vector<Material> everything() {
  std::vector<Material> all;
  for (const auto& group : {plastics(), metals(), sheets_and_wood()}) all.insert(all.end(), group.begin(), group.end());
  std::sort(all.begin(), all.end(), [](const Material& a, const Material& b) { return a.name < b.name; });
  return all;
}

std::string small(std::string_view name) {
  std::string result(name);
  for (char& c : result) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return result;
}

struct OtherName {
  const char *other, *name;
};
constexpr OtherName kOtherNames[] = {
    {"acetal copolymer", "acetal"},
    {"pom", "acetal"},
    {"polyethylene", "HDPE"},
    {"high-density polyethylene", "HDPE"},
    {"uhmw", "UHMW polyethylene"},
    {"uhmw-pe", "UHMW polyethylene"},
    {"aluminum", "aluminum 5083 plate"},
    {"aluminium", "aluminum 5083 plate"},
    {"aluminium 5083 plate", "aluminum 5083 plate"},
    {"hardwood", "hardwood along the grain"},
    {"fiberboard", "MDF"},
};

const Material* named(std::span<const Material> among, std::string_view name) {
  const auto at =
      std::find_if(among.begin(), among.end(), [&](const Material& m) { return small(m.name) == small(name); });
  return at == among.end() ? nullptr : &*at;
}

}  // namespace

std::span<const Material> all_materials() {
  static const std::vector<Material> all = everything();
  return all;
}

Result<Material> find_material(std::string_view name, std::span<const Material> own) {
  if (const Material* m = named(own, name)) return *m;
  if (const Material* m = named(all_materials(), name)) return *m;
  std::vector<std::string> known;
  for (const OtherName& o : kOtherNames) {
    if (small(name) == o.other) return *named(all_materials(), o.name);
    known.push_back(o.other);
  }
  for (const Material& m : all_materials()) known.push_back(m.name);
  for (const Material& m : own) known.push_back(m.name);
  return Problem{
      "unknown_material", "",
      fmt::format("there are no figures for \"{}\"{}; give them in a table [[material]] of your own, or name "
                  "the nearest of ours",
                  name, did_you_mean(name, known)),
      ""};
}

}  // namespace stickwright
