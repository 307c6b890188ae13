#include "serve/record_asked.h"

#include <fmt/core.h>

#include <algorithm>

#include "ledger/typed_value.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

// "2031-02-04T18:30:05.123Z" as browsers write it: the ledger keeps whole seconds.
std::string whole_seconds(const std::string& time) {
  const std::size_t dot = time.find('.');
  if (dot == std::string::npos || time.back() != 'Z') return time;
  const bool digits = std::all_of(time.begin() + static_cast<std::ptrdiff_t>(dot) + 1, time.end() - 1,
                                  [](char c) { return c >= '0' && c <= '9'; });
  return digits ? time.substr(0, dot) + "Z" : time;
}

// "15.98 mm" as "15.98mm": one word, so that two of them with "/" between stay together.
std::string in_one_word(const std::string& value) {
  std::string out;
  for (const char c : value)
    if (c != ' ') out += c;
  return split_typed(value).size() == 1 ? out : value;
}

SentReading sent_reading(const Given& r) {
  SentReading s;
  s.client_key = r.text("key");
  s.text = r.text_if("value").value_or("");
  if (const auto second = r.text_if("value_2")) s.text = in_one_word(s.text) + "/" + in_one_word(*second);
  s.block = static_cast<int>(r.whole_if("block", 1, 1'000'000).value_or(0));
  s.stick = r.text_if("stick").value_or("");
  s.wood = r.text_if("wood").value_or("");
  s.note = r.text_if("note").value_or("");
  s.taken_at = whole_seconds(r.text_if("taken_at").value_or(""));
  // The second width of a block goes under the key with "/2" behind it.
  if (s.client_key.find('/') != std::string::npos) r.report("key", "bad_key", "a key has no \"/\" in it");
  r.only({"key", "value", "value_2", "block", "stick", "wood", "note", "taken_at"});
  return s;
}

struct Refused {
  std::string key, code, say;
};

// The readings that one thing sent holds: of a stop one, of widths up to one of each.
Result<std::vector<Reading>> readings_in(const RecordDesk& desk, const SentReading& sent) {
  if (split_typed(sent.text).size() > 1)
    return Problem{"bad_value", "", fmt::format("one value at a time, found \"{}\"", sent.text), ""};
  auto read = read_sent(desk, {&sent, 1});
  if (!read) return for_the_page(read.problem());
  return read;
}

struct Sorted {
  std::vector<Reading> readings;
  std::vector<std::string> keys;  // of the page, by reading
  std::vector<Refused> refused;
};

Sorted sort_out(const RecordDesk& desk, const std::vector<SentReading>& sent) {
  Sorted out;
  for (const SentReading& s : sent) {
    const auto readings = readings_in(desk, s);
    if (!readings) {
      out.refused.push_back({s.client_key, readings.problem().code, readings.problem().say});
      continue;
    }
    for (const Reading& r : readings.value()) out.readings.push_back(r), out.keys.push_back(s.client_key);
  }
  return out;
}

Result<Recorded> store(const BatchAsked& batch, const RecordDesk& desk, const std::vector<Reading>& readings) {
  if (readings.empty()) return Recorded{{}, readings_now(batch, desk.places)};
  auto opened = Ledger::open(batch.ledger);
  if (!opened) return opened.problem();
  Ledger ledger = opened.take();
  return record_readings(ledger, desk, readings);
}

Json stored_json(const RecordedEntry& e, const std::string& key) {
  return {{"id", e.stored.id},
          {"key", key},
          {"was_there", e.stored.was_there},
          {"value_mm", to_mm(*e.value).v},
          {"width", e.side > 0 ? Json(e.side) : Json(nullptr)},
          {"block", e.stored.block > 0 ? Json(e.stored.block) : Json(nullptr)},
          {"at", e.stored.at}};
}

}  // namespace

RecordAsked record_given(const Given& body) {
  RecordAsked a;
  a.batch = body.text("batch");
  a.set_up = body.text("setup");
  a.of_widths = body.flag_or("width", false);
  if (!a.of_widths) a.stop = static_cast<int>(body.whole("stop", 1, 1000));
  if (a.of_widths && body.has("stop")) body.report("stop", "wrong_type", "either a stop or a width is read, not both");
  a.notes.by = body.text_if("by").value_or("");
  a.notes.instrument = body.text_if("instrument").value_or("");
  a.notes.stick = body.text_if("stick").value_or("");
  a.notes.wood = body.text_if("wood").value_or("");
  a.notes.note = body.text_if("note").value_or("");
  a.notes.inches = body.flag_or("inches", false);
  for (const Given& r : body.objects("readings")) a.sent.push_back(sent_reading(r));
  body.only({"batch", "setup", "stop", "width", "by", "instrument", "stick", "wood", "note", "inches", "readings"});
  return a;
}

Result<Json> recorded_on_the_page(const Recorded& recorded) {
  if (!recorded.now) return recorded.now.problem();
  const std::vector<StopReadings>& now = recorded.now.value();
  Json out = {{"setup", now.front().place.id}, {"unit", "mm"}};
  if (now.front().place.side == 0) out = stop_on_the_page(now.front());
  out["widths"] = Json::array();
  for (const StopReadings& s : now)
    if (s.place.side > 0) out["widths"].push_back(stop_on_the_page(s));
  out["name"] = now.front().place.name;
  out["light"] = gravest_light(now);
  for (const StopReadings& s : now)
    if (!out.contains("says") && light_of(s) == out["light"])
      out["says"] = s.standing.empty() ? "No readings yet." : advice_line(s);
  return out;
}

Result<Json> record_given_readings(const BatchAsked& batch, const RecordAsked& asked) {
  const auto places = places_to_record(*batch.plan, asked.set_up, asked.stop, asked.of_widths);
  if (!places) return for_the_page(places.problem());
  const auto desk = record_desk(*batch.plan, places.value(), asked.notes);
  if (!desk) return for_the_page(desk.problem());
  Sorted sorted = sort_out(desk.value(), asked.sent);
  const auto recorded = store(batch, desk.value(), sorted.readings);
  if (!recorded) return recorded.problem();
  auto told = recorded_on_the_page(recorded.value());
  if (!told) return told.problem();
  Json out = told.take();
  out["stored"] = Json::array();
  out["refused"] = Json::array();
  for (std::size_t i = 0; i < sorted.readings.size(); ++i) {
    const RecordedEntry& e = recorded.value().entries[i];
    if (e.value == sorted.readings[i].value)
      out["stored"].push_back(stored_json(e, sorted.keys[i]));
    else
      sorted.refused.push_back({sorted.keys[i], "key_used",
                                fmt::format("the key belongs to another reading, entry {}; nothing was written for "
                                            "this one",
                                            e.stored.id)});
  }
  for (const Refused& r : sorted.refused) out["refused"].push_back({{"key", r.key}, {"code", r.code}, {"say", r.say}});
  return out;
}

}  // namespace stickwright
