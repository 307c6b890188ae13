#include "batch/truing_file.h"

#include <array>
#include <cmath>
#include <optional>

#include "batch/known_saw.h"
#include "text/toml_reader.h"

namespace stickwright {
namespace {

constexpr LengthRange kGap{Mm{0}, Mm{5}}, kArm{Mm{5}, Mm{1000}}, kSize{Mm{1}, Mm{500}};

// A gap or a height, above zero at the first of two places and below at the second.
Mm signed_reading(const Table& t, std::string_view amount, std::string_view place,
                  std::initializer_list<std::string_view> places) {
  const Mm size = t.length(amount, kGap);
  return t.choice(place, places) == 0 ? size : Mm{-size.v};
}

// What was looked at; nothing when the file does not say it rightly. The table's other keys are not judged then: which
// of them belong there is not known.
std::optional<Look> read_look(const Table& t) {
  const auto look = static_cast<Look>(t.choice("of", {"point", "blade", "corner", "width", "bar", "flanks"}));
  if (t.has("of") && t.text("of") == to_string(look)) return look;
  for (const char* key : {"gap", "light", "higher", "end", "flank", "at", "across", "length", "over", "u"}) t.has(key);
  return {};
}

Observation read_observation(const Table& t, const Caliper& caliper) {
  Observation o;
  const auto look = read_look(t);
  if (!look) return o;
  o.look = *look;
  switch (o.look) {
    case Look::point:
      o.measured = signed_reading(t, "gap", "light", {"tip", "ends"});
      break;
    case Look::blade:
      o.measured = signed_reading(t, "gap", "light", {"foot", "top"});
      break;
    case Look::bar:
      o.measured = signed_reading(t, "higher", "end", {"far", "near"});
      break;
    case Look::flanks:
      o.measured = signed_reading(t, "higher", "flank", {"away", "near"});
      break;
    case Look::corner_length:
      o.which = static_cast<int>(t.choice("at", {"away", "up", "near", "down"}));
      o.measured = t.length("length", kSize);
      break;
    case Look::width:
      o.which = static_cast<int>(t.integer("across", {1, 2})) - 1;
      o.measured = t.length("length", kSize);
      break;
  }
  if (o.look != Look::corner_length && o.look != Look::width) o.over = t.length("over", kArm);
  o.u = t.has("u") ? t.length("u", {Mm{0.0001}, Mm{1}}) : usual_u(o.look, caliper);
  return o;
}

Result<std::vector<Observation>> readings_in(const Document& document, const Caliper& caliper) {
  const Table root = document.root();
  root.format(1);
  std::vector<Observation> out;
  for (const Table& t : root.tables("reading")) out.push_back(read_observation(t, caliper));
  return document.finish(std::move(out));
}

}  // namespace

Mm usual_u(Look look, const Caliper& caliper) {
  constexpr double kEye = 0.005;
  if (sign_of_square(look) != 0) return Mm{kEye / std::sqrt(3.0)};
  return Mm{one_reading(caliper).u};
}

Result<std::vector<Observation>> load_truing_readings(const std::filesystem::path& path, const Caliper& caliper) {
  const auto document = read_toml(path);
  if (!document) return document.problem();
  return readings_in(document.value(), caliper);
}

Result<std::vector<Observation>> parse_truing_readings(std::string_view text, const std::string& file,
                                                       const Caliper& caliper) {
  const auto document = parse_toml(text, file);
  if (!document) return document.problem();
  return readings_in(document.value(), caliper);
}

}  // namespace stickwright
