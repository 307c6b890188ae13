#include "serve/truing_asked.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>

#include "answers/truing_readings.h"
#include "packet/truing_check.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

// The keys of a reading in a truing file; `across` is a number, all others are texts.
constexpr const char* kTextKeys[] = {"of", "gap", "light", "higher", "end", "flank", "at", "length", "over", "u"};

// A truing file made of the readings given, a key a line, and which key each line holds.
struct TruingPage {
  std::string text = "format = 1\n";
  std::vector<std::string> keys = {""};  // by line
  void line(const std::string& words, const std::string& key) {
    text += words + "\n";
    keys.push_back(key);
  }
};

TruingPage truing_page(const Given& body) {
  TruingPage page;
  for (const Given& r : body.objects("readings")) {
    page.line("[[reading]]", r.place(""));
    for (const char* key : kTextKeys)
      if (const auto value = r.text_if(key)) page.line(fmt::format("{} = {}", key, Json(*value).dump()), r.place(key));
    if (const auto across = r.whole_if("across", 1, 2))
      page.line(fmt::format("across = {}", *across), r.place("across"));
    r.only({"of", "gap", "light", "higher", "end", "flank", "at", "across", "length", "over", "u"});
  }
  return page;
}

// "readings:5:7" is a place in a page that nobody sees: the key that stands there.
Problem at_its_key(Problem p, const TruingPage& page) {
  const std::string file = "readings:";
  if (!p.where.starts_with(file)) return for_the_page(std::move(p));
  std::size_t line = 0;
  std::from_chars(p.where.data() + file.size(), p.where.data() + p.where.size(), line);
  p.where = line >= 1 && line <= page.keys.size() ? page.keys[line - 1] : "readings";
  p.excerpt.clear();
  return p;
}

Json length_ask(const char* key, const char* says, bool optional = false) {
  return {{"key", key}, {"kind", "length"}, {"says", says}, {"optional", optional}};
}
Json choice_ask(const char* key, const char* says, std::initializer_list<std::pair<const char*, const char*>> choices) {
  Json j = {{"key", key}, {"kind", "choice"}, {"says", says}, {"optional", false}, {"choices", Json::array()}};
  for (const auto& [value, means] : choices) j["choices"].push_back({{"value", value}, {"says", means}});
  return j;
}

Json look_json(Look look, const char* says, std::initializer_list<Json> asks) {
  Json j = {{"id", to_string(look)}, {"says", says}, {"asks", Json::array()}};
  for (const Json& ask : asks) j["asks"].push_back(ask);
  j["asks"].push_back(length_ask("u", "standard uncertainty of this reading, if you know better", true));
  return j;
}

}  // namespace

Result<std::vector<Observation>> observations_given(const Given& body, const Caliper& caliper) {
  TruingTexts texts;
  texts.gaps = body.texts_or_none("gaps");
  texts.over = body.text_if("over").value_or("");
  texts.light = body.text_if("light").value_or("tip");
  texts.u = body.text_if("u").value_or("");
  TruingPage page;
  if (body.has("readings")) {
    page = truing_page(body);
    texts.file = "readings";
    texts.text = page.text;
  }
  if (texts.gaps.empty() && !texts.text)
    return Problem{"missing_key", "readings", "nothing was read: give \"gaps\" with \"over\", or \"readings\"", ""};
  if (!texts.gaps.empty() && texts.over.empty())
    return Problem{"missing_key", "over", "say at which length of arm the gap is, such as \"60 mm\"", ""};
  auto read = truing_readings(texts, caliper);
  if (!read) return at_its_key(read.problem(), page);
  return read;
}

Json looks_json() {
  const Json gap = length_ask("gap", "the light gap, as wide as the feeler leaf or the known gap beside it");
  const Json over_square = length_ask("over", "how far from the corner of the square the gap is");
  const Json higher = length_ask("higher", "how much higher the indicator reads there");
  return Json::array(
      {look_json(Look::point, "two opposite miters cut to a point, a square held over it",
                 {gap,
                  choice_ask("light", "where light shows",
                             {{"tip", "at the tip: the point is too wide"}, {"ends", "at the ends: too sharp"}}),
                  over_square}),
       look_json(Look::blade,
                 "a square on the sled, on the side of the stop, its arm against the blade's plate; saw unplugged",
                 {gap,
                  choice_ask("light", "where light shows",
                             {{"foot", "at the foot: the top leans over to the stop"}, {"top", "at the top"}}),
                  over_square}),
       look_json(
           Look::bar, "a straight bar in the V, an indicator run along its top",
           {higher, choice_ask("end", "which end is higher", {{"far", "towards the blade"}, {"near", "the other"}}),
            length_ask("over", "length of the bar between the two places")}),
       look_json(
           Look::flanks, "an indicator from one flank of the V to the other",
           {higher, choice_ask("flank", "which flank is higher", {{"away", "away from you"}, {"near", "near you"}}),
            length_ask("over", "distance of the two places")}),
       look_json(Look::corner_length, "the truing block, along one of its four corner lines",
                 {choice_ask("at", "where that line was while the block lay for its second cut",
                             {{"away", "away from you"}, {"up", "up"}, {"near", "near you"}, {"down", "down"}}),
                  length_ask("length", "length along that line")}),
       look_json(Look::width, "the stick, across a pair of its sides",
                 {Json{{"key", "across"},
                       {"kind", "number"},
                       {"says", "which pair of sides"},
                       {"optional", false},
                       {"choices", Json::array({Json{{"value", 1}, {"says", "one pair"}},
                                                Json{{"value", 2}, {"says", "the other pair"}}})}},
                  length_ask("length", "what the caliper reads")})});
}

Json prepared_json(const Batch& batch) {
  Json out = Json::array();
  for (const TruingCheck& check : truing_checks(batch.shop, batch.stick)) {
    Json rows = Json::array();
    for (const Row& row : strip_rows(check, batch.shop)) rows.push_back(row);
    out.push_back({{"title", check.title},
                   {"look", to_string(check.look.look)},
                   {"over_mm", check.look.over.v},
                   {"does", check.what},
                   {"means", check.means},
                   {"formula", formula_in_words(check.look)},
                   {"leave", leave_in_words(check.look)},
                   {"leaf_at", check.leaf_place},
                   {"missing_key", check.missing_key},
                   {"rows", rows}});
  }
  return out;
}

}  // namespace stickwright
