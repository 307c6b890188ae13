#include "answers/truing_readings.h"

#include <fmt/core.h>

#include "batch/truing_file.h"

namespace stickwright {
namespace {

Problem bad_option(const char* option, const std::string& say) {
  return {"bad_option", option, say, ""};
}

Result<Mm> option_length(const char* option, const std::string& text, double least, double most) {
  const auto length = parse_length(text);
  if (!length) return bad_option(option, length.problem().say);
  if (length.value().v < least || length.value().v > most)
    return bad_option(option, fmt::format("expected {:g} to {:g} mm, found \"{}\"", least, most, text));
  return length.value();
}

// Two opposite miters against a square.
Result<std::vector<Observation>> gaps_typed(const TruingTexts& t, const Caliper& caliper) {
  std::vector<Observation> out;
  if (t.gaps.empty()) return out;
  if (t.over.empty()) return bad_option("--over", "say at which length of arm the gap is, such as --over \"60 mm\"");
  const auto over = option_length("--over", t.over, 5, 1000);
  if (!over) return over.problem();
  Mm u = usual_u(Look::point, caliper);
  if (!t.u.empty()) {
    const auto given = option_length("--u", t.u, 1e-4, 1);
    if (!given) return given.problem();
    u = given.value();
  }
  if (t.light != "tip" && t.light != "ends")
    return bad_option("--light", fmt::format("expected tip or ends, found \"{}\"", t.light));
  for (const std::string& text : t.gaps) {
    const auto gap = option_length("--gap", text, 0, 5);
    if (!gap) return gap.problem();
    out.push_back({Look::point, 0, Mm{t.light == "tip" ? gap.value().v : -gap.value().v}, over.value(), u});
  }
  return out;
}

}  // namespace

Result<std::vector<Observation>> truing_readings(const TruingTexts& t, const Caliper& caliper) {
  auto gaps = gaps_typed(t, caliper);
  if (!gaps) return gaps.problem();
  std::vector<Observation> all = gaps.take();
  if (!t.file.empty() || t.text) {
    const auto file = t.text ? parse_truing_readings(*t.text, t.file, caliper) : load_truing_readings(t.file, caliper);
    if (!file) return file.problem();
    all.insert(all.end(), file.value().begin(), file.value().end());
  }
  if (all.empty())
    return bad_option("--gap", "nothing was read: give --gap and --over, or --readings FILE (docs/files.md)");
  return all;
}

}  // namespace stickwright
