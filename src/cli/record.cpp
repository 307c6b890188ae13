#include <fmt/core.h>

#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/exit_code.h"
#include "cli/keyed_lines.h"
#include "cli/say.h"
#include "cli/stop_readings.h"
#include "cli/verbs.h"
#include "ledger/reading_csv.h"
#include "text/utf8.h"
#include "wood/species.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

constexpr double kImpossible = 0.2;  // share of the size by which no block is off: a slip, or the wrong set-up

// Everything that a reading is entered with, checked.
struct Desk {
  const Options& options;
  const BatchPlan& plan;
  StopPlace place;
  Reading blank;  // all but the value
  Unit unit() const { return options.inches ? Unit::inch : Unit::mm; }
  Wanted wanted() const { return wanted_at(plan, place); }
  std::filesystem::path file() const { return ledger_path(options.file); }
};

struct Entry {
  Stored stored;
  std::optional<Nm> value;  // none: it withdraws another
};

std::optional<Problem> impossible(const Desk& desk, Nm value) {
  const double wanted = desk.wanted().size, mm = to_mm(value).v;
  const auto is_near = [&](double x) { return std::abs(x - wanted) <= kImpossible * wanted; };
  if (is_near(mm)) return std::nullopt;
  return Problem{"impossible_value", "",
                 fmt::format("{:.3f} mm is more than {:.0f} % off the {:.3f} mm that {}, stop {}, is to measure{}", mm,
                             100 * kImpossible, wanted, desk.place.id, desk.place.number(),
                             is_near(mm * kMmPerInch) ? "; if it was inches, say --inches" : ""),
                 ""};
}

Result<Nm> read_value(const Desk& desk, const std::string& text) {
  const auto value = parse_typed(text, desk.unit());
  if (!value) return value.problem();
  if (auto problem = impossible(desk, value.value())) return *problem;
  return value.value();
}

Result<std::vector<Reading>> read_line(const Desk& desk, const std::string& line) {
  std::vector<Reading> readings;
  for (const std::string& text : split_typed(line)) {
    const auto value = read_value(desk, text);
    if (!value) return value.problem();
    readings.push_back(desk.blank);
    readings.back().value = value.value();
  }
  return readings;
}

Result<std::string> wood_named(const std::string& name) {
  if (name.empty()) return name;
  const auto species = find_species(name);
  if (!species) return species.problem();
  return std::string(species.value()->name);
}

Result<std::vector<Reading>> read_csv_file(const Desk& desk) {
  std::error_code error;
  std::ifstream in(desk.options.csv, std::ios::binary);
  if (!in.is_open() || std::filesystem::is_directory(desk.options.csv, error))
    return Problem{"no_file", desk.options.csv, "is no file that can be read; is the name right?", ""};
  std::stringstream all;
  all << in.rdbuf();
  const std::string text = all.str();
  const auto csv = read_csv(desk.options.csv, text, desk.unit());
  if (!csv) return csv.problem();
  std::vector<Reading> readings;
  for (const CsvReading& r : csv.value().readings) {
    Reading reading = desk.blank;
    reading.value = r.reading.value;
    reading.entered = Entered::csv;
    reading.taken_at = r.reading.taken_at;
    const auto wood = wood_named(r.reading.wood);
    auto problem = wood ? impossible(desk, reading.value) : wood.problem();
    if (problem) return problem_at(csv.value().source, r.at, problem->code, problem->say);
    if (!wood.value().empty()) reading.wood = wood.value();
    if (!r.reading.stick.empty()) reading.stick = r.reading.stick;
    if (!r.reading.note.empty()) reading.note = r.reading.note;
    readings.push_back(reading);
  }
  return readings;
}

// All that stands on the command line, in the file or in the pipe: it is stored whole or not at all.
Result<std::vector<Reading>> read_all(const Desk& desk, KeyedLines* keys) {
  if (!desk.options.csv.empty()) return read_csv_file(desk);
  std::string text;
  if (keys)
    for (std::string line; keys->next(line);) text += line + "\n";
  for (const std::string& value : desk.options.values) text += value + "\n";
  auto readings = read_line(desk, text);
  if (readings && readings.value().empty())
    return Problem{"no_readings", "", "There is nothing to record: give readings after the set-up, or one a line.", ""};
  return readings;
}

void print_outcome(const Desk& desk, const StopReadings& now, const std::vector<Entry>& entries) {
  if (desk.options.json) {
    Json out = stop_readings_json(now);
    out["stored"] = Json::array();
    for (const Entry& e : entries)
      out["stored"].push_back(
          {{"id", e.stored.id}, {"value_mm", e.value ? Json(to_mm(*e.value).v) : Json(nullptr)}, {"at", e.stored.at}});
    print_json(out);
    return;
  }
  fmt::print("{}", stop_readings_report(now));
}

int tell_outcome(const Desk& desk, Ledger& ledger, const std::vector<Entry>& entries) {
  const auto now = readings_at(ledger, desk.plan, desk.place);
  if (!now) return tell(now.problem());
  print_outcome(desk, now.value(), entries);
  return kDone;
}

// Stores the readings of one call and adds them to `entries`.
std::optional<Problem> store(Ledger& ledger, const std::vector<Reading>& readings, std::vector<Entry>& entries) {
  const auto stored = ledger.add_readings(readings);
  if (!stored) return stored.problem();
  for (std::size_t i = 0; i < readings.size(); ++i) entries.push_back({stored.value()[i], readings[i].value});
  return std::nullopt;
}

int record_at_once(const Desk& desk, KeyedLines* keys) {
  const auto readings = read_all(desk, keys);
  if (!readings) return tell(readings.problem());
  auto ledger = Ledger::open(desk.file());
  if (!ledger) return tell(ledger.problem());
  Ledger open = ledger.take();
  std::vector<Entry> entries;
  if (auto problem = store(open, readings.value(), entries)) return tell(*problem);
  if (!desk.options.json)
    for (const Entry& e : entries) fmt::print("stored {}: {:.3f} mm\n", e.stored.id, to_mm(*e.value).v);
  return tell_outcome(desk, open, entries);
}

// "stored 12: 16.020 mm; mean of 5: 16.0120 mm; go_on", and what the newest reading sets off.
std::string acknowledged(const StopReadings& now, std::span<const Entry> entries) {
  std::string out;
  for (const Entry& e : entries) out += fmt::format("stored {}: {:.3f} mm; ", e.stored.id, to_mm(*e.value).v);
  const RunReport& r = now.report;
  if (r.mean) out += fmt::format("mean of {}: {:.4f} mm; ", r.readings, *r.mean);
  out += fmt::format("{}\n", to_string(r.advice));
  if (r.advice == Advice::stop) out += fmt::format("  {}\n", advice_line(r));
  for (const Signal& s : r.signals)
    if (s.last + 1 == r.readings)
      out += fmt::format("  signal: {}; first {}\n", signal_in_words(s), usual_cause(s).check);
  return out;
}

// Each entry is stored and answered before the next is read; one that is refused keeps nobody from going on.
int record_one_by_one(const Desk& desk, KeyedLines& keys) {
  auto opened = Ledger::open(desk.file());
  if (!opened) return tell(opened.problem());
  Ledger ledger = opened.take();
  std::FILE* answers = desk.options.json ? stderr : stdout;
  std::vector<Entry> entries;
  int refused = 0;
  if (keys.is_terminal())
    fmt::print(answers, "{}, stop {}: {:.3f} mm wanted. A reading a line; Ctrl-D ends.\n", desk.place.id,
               desk.place.number(), desk.wanted().size);
  for (std::string line; std::fflush(answers), keys.next(line);) {
    const auto readings = read_line(desk, line);
    if (!readings) {
      ++refused;
      fmt::print(stderr, "not stored: {} [{}]\n", readings.problem().say, readings.problem().code);
      continue;
    }
    if (readings.value().empty()) continue;
    const std::size_t before = entries.size();
    if (auto problem = store(ledger, readings.value(), entries)) return tell(*problem);
    const auto now = readings_at(ledger, desk.plan, desk.place);
    if (!now) return tell(now.problem());
    fmt::print(answers, "{}", acknowledged(now.value(), std::span(entries).subspan(before)));
  }
  if (const int told = tell_outcome(desk, ledger, entries); told != kDone) return told;
  return refused > 0 && !keys.is_terminal() ? kBadInput : kDone;
}

// The reading that an entry is, or is a change of.
const KeptReading* reading_of(const std::vector<KeptReading>& kept, EntryId id) {
  for (const KeptReading& k : kept) {
    if (k.id == id) return &k;
    for (const Change& c : k.changes)
      if (c.id == id) return &k;
  }
  return nullptr;
}

Result<Stored> change(const Desk& desk, Ledger& ledger, EntryId id, std::optional<Nm>& value) {
  const Options& o = desk.options;
  if (o.withdraw != 0) return ledger.withdraw(id, o.by, o.note);
  if (o.values.empty()) return Problem{"bad_value", "--correct", "the right value is missing: --correct ID VALUE", ""};
  std::string text;
  for (const std::string& v : o.values) text += v + " ";
  const auto read = read_value(desk, text);
  if (!read) return read.problem();
  value = read.value();
  return ledger.correct(id, *value, o.by, o.note);
}

int record_change(const Options& options, const BatchPlan& plan) {
  const EntryId id = options.withdraw != 0 ? options.withdraw : options.correct;
  const std::filesystem::path file = ledger_path(options.file);
  if (!std::filesystem::exists(file))
    return tell({"unknown_entry", file.string(), "There is no ledger yet, so there is nothing to correct.", ""});
  auto opened = Ledger::open(file);
  if (!opened) return tell(opened.problem());
  Ledger ledger = opened.take();
  const auto kept = ledger.readings();
  if (!kept) return tell(kept.problem());
  const KeptReading* k = reading_of(kept.value(), id);
  if (!k) return tell({"unknown_entry", fmt::format("entry {}", id), "There is no such reading in the ledger.", ""});
  const auto place = find_stop(plan, k->reading.set_up, k->reading.stop);
  if (!place) return tell(place.problem());
  const Desk desk{options, plan, place.value(), {}};
  std::optional<Nm> value;
  const auto stored = change(desk, ledger, id, value);
  if (!stored) return tell(stored.problem());
  if (!options.json)
    fmt::print("stored {}: entry {} {}\n", stored.value().id, k->id,
               value ? fmt::format("is {:.3f} mm now", to_mm(*value).v) : "is withdrawn");
  return tell_outcome(desk, ledger, {{stored.value(), value}});
}

Result<Reading> blank_reading(const Options& o, const BatchPlan& plan, const StopPlace& place) {
  for (const std::string& text : {o.stick, o.by, o.instrument, o.note})
    if (!is_one_line(text)) return Problem{"bad_text", "", "A name or a note has to be one line of UTF-8 text.", ""};
  const auto wood = wood_named(o.wood);
  if (!wood) return wood.problem();
  Reading r;
  r.set_up = place.id;
  r.stop = place.number();
  r.stick = o.stick;
  r.wood = wood.value();
  r.instrument = o.instrument.empty() ? plan.batch.shop.caliper.name : o.instrument;
  r.by = o.by;
  r.note = o.note;
  return r;
}

}  // namespace

int record_verb(const Options& options) {
  const auto plan = plan_set_ups(options.file);
  if (!plan) return tell(plan.problem());
  if (options.correct != 0 || options.withdraw != 0) return record_change(options, plan.value());
  if (options.set_up.empty())
    return tell({"unknown_set_up", "--setup", "say which set-up was measured: its id or its number on the cards", ""});
  const auto place = find_stop(plan.value(), options.set_up, options.stop);
  if (!place) return tell(place.problem());
  const auto blank = blank_reading(options, plan.value(), place.value());
  if (!blank) return tell(blank.problem());
  Desk desk{options, plan.value(), place.value(), blank.value()};
  const bool from_input = options.values.empty() && options.csv.empty();
  if (!from_input) return record_at_once(desk, nullptr);
  KeyedLines keys;
  desk.blank.entered = keys.is_terminal() ? Entered::typed : Entered::piped;
  return keys.is_terminal() || options.each ? record_one_by_one(desk, keys) : record_at_once(desk, &keys);
}

}  // namespace stickwright
