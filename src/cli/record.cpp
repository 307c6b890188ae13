#include <fmt/core.h>

#include <cstdio>
#include <nlohmann/json.hpp>
#include <span>

#include "batch/wording.h"
#include "cli/exit_code.h"
#include "cli/record_values.h"
#include "cli/say.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

struct Entry {
  Stored stored;
  std::optional<Nm> value;  // none: it withdraws another
  int side = 0;
};

// "stored 12: 16.020 mm", "stored 13: block 7, width 1: 15.980 mm"
std::string stored_line(const Entry& e) {
  std::string out = fmt::format("stored {}: ", e.stored.id);
  if (e.stored.block > 0) out += fmt::format("block {}{}", e.stored.block, e.side > 0 ? ", " : ": ");
  if (e.side > 0) out += fmt::format("width {}: ", e.side);
  return out + fmt::format("{:.3f} mm", to_mm(*e.value).v);
}

const Program& program_at(const RecordDesk& desk) {
  return desk.plan.set_ups[desk.place().set_up].program;
}

Json stored_json(const std::vector<Entry>& entries) {
  Json out = Json::array();
  for (const Entry& e : entries)
    out.push_back({{"id", e.stored.id},
                   {"value_mm", e.value ? Json(to_mm(*e.value).v) : Json(nullptr)},
                   {"block", e.stored.block > 0 ? Json(e.stored.block) : Json(nullptr)},
                   {"at", e.stored.at}});
  return out;
}

// Of a stop its keys stand at the head; of widths there may be two.
Json outcome_json(const RecordDesk& desk, const std::vector<StopReadings>& now, const std::vector<Entry>& entries) {
  Json out = {{"setup", desk.place().id}, {"unit", "mm"}, {"widths", Json::array()}};
  if (!desk.of_widths()) out = stop_readings_json(now.front());
  for (const StopReadings& s : now)
    if (desk.of_widths()) out["widths"].push_back(stop_readings_json(s));
  out["stored"] = stored_json(entries);
  return out;
}

Result<std::vector<StopReadings>> read_back(const RecordDesk& desk, Ledger& ledger) {
  std::vector<StopReadings> out;
  for (const StopPlace& place : desk.places) {
    auto now = readings_at(ledger, desk.plan, place);
    if (!now) return now.problem();
    out.push_back(now.take());
  }
  return out;
}

int tell_outcome(const RecordDesk& desk, Ledger& ledger, const std::vector<Entry>& entries) {
  const auto now = read_back(desk, ledger);
  if (!now) return tell(now.problem());
  if (desk.options.json) {
    print_json(outcome_json(desk, now.value(), entries));
    return kDone;
  }
  for (const StopReadings& s : now.value())
    if (!desk.of_widths() || !s.kept.empty()) fmt::print("{}", stop_readings_report(s));
  if (desk.of_widths()) fmt::print("Which is which: {}\n", widths_in_words(program_at(desk)));
  return kDone;
}

// Stores the readings of one call and adds them to `entries`.
std::optional<Problem> store(Ledger& ledger, const std::vector<Reading>& readings, std::vector<Entry>& entries) {
  const auto stored = ledger.add_readings(readings);
  if (!stored) return stored.problem();
  for (std::size_t i = 0; i < readings.size(); ++i)
    entries.push_back({stored.value()[i], readings[i].value, readings[i].side});
  return std::nullopt;
}

int record_at_once(const RecordDesk& desk, KeyedLines* keys) {
  const auto readings = read_all(desk, keys);
  if (!readings) return tell(readings.problem());
  auto ledger = Ledger::open(desk.file());
  if (!ledger) return tell(ledger.problem());
  Ledger open = ledger.take();
  std::vector<Entry> entries;
  if (auto problem = store(open, readings.value(), entries)) return tell(*problem);
  if (!desk.options.json)
    for (const Entry& e : entries) fmt::print("{}\n", stored_line(e));
  return tell_outcome(desk, open, entries);
}

// "stored 12: 16.020 mm; mean of 5: 16.0120 mm; go_on", and what the newest reading sets off.
std::string acknowledged(const StopReadings& now, std::span<const Entry> entries) {
  std::string out;
  for (const Entry& e : entries)
    if (e.side == now.place.side) out += stored_line(e) + "; ";
  if (out.empty()) return out;
  const RunReport& r = now.report;
  if (r.mean) out += fmt::format("mean of {}: {:.4f} mm; ", r.readings, *r.mean);
  out += fmt::format("{}\n", to_string(r.advice));
  if (r.advice == Advice::stop) out += fmt::format("  {}\n", advice_line(now));
  for (const Signal& s : r.signals)
    if (s.last + 1 == r.readings)
      out += fmt::format("  signal: {}{}\n", signal_in_words(s),
                         now.place.side > 0 ? "" : fmt::format("; first {}", usual_cause(s).check));
  return out;
}

std::string greeting(const RecordDesk& desk) {
  const std::string what = desk.of_widths() ? "widths" : desk.place().size();
  std::string out = fmt::format("{}, {}: {:.3f} mm wanted. ", desk.place().id, what, desk.wanted().size);
  if (!desk.of_widths()) return out + "A reading a line; Ctrl-D ends.\n";
  return out + fmt::format("A block a line, {}; Ctrl-D ends.\n{}\n",
                           desk.places.size() > 1 ? "as 15.98/16.01" : "one value", widths_in_words(program_at(desk)));
}

// Each entry is stored and answered before the next is read; one that is refused keeps nobody from going on.
int record_one_by_one(RecordDesk desk, KeyedLines& keys) {
  auto opened = Ledger::open(desk.file());
  if (!opened) return tell(opened.problem());
  Ledger ledger = opened.take();
  std::FILE* answers = desk.options.json ? stderr : stdout;
  std::vector<Entry> entries;
  int refused = 0;
  if (keys.is_terminal()) fmt::print(answers, "{}", greeting(desk));
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
    if (desk.blank.block > 0) desk.blank.block = entries.back().stored.block + 1;
    const auto now = read_back(desk, ledger);
    if (!now) return tell(now.problem());
    for (const StopReadings& s : now.value())
      fmt::print(answers, "{}", acknowledged(s, std::span(entries).subspan(before)));
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

Result<Stored> change(const RecordDesk& desk, Ledger& ledger, EntryId id, std::optional<Nm>& value) {
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

// The stop, or the widths: of an entry only its own.
Result<std::vector<StopPlace>> places_of(const BatchPlan& plan, const std::string& set_up, int stop, int side) {
  if (side == 0) {
    const auto place = find_stop(plan, set_up, stop);
    if (!place) return place.problem();
    return std::vector{place.value()};
  }
  auto widths = find_widths(plan, set_up);
  if (!widths) return widths.problem();
  std::vector<StopPlace> out = widths.take();
  std::erase_if(out, [&](const StopPlace& p) { return p.side != side; });
  if (out.empty()) return Problem{"no_width", "", fmt::format("the blocks of {} have no width {}", set_up, side), ""};
  return out;
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
  const auto places = places_of(plan, k->reading.set_up, k->reading.stop, k->reading.side);
  if (!places) return tell(places.problem());
  const RecordDesk desk{options, plan, places.value(), {}};
  std::optional<Nm> value;
  const auto stored = change(desk, ledger, id, value);
  if (!stored) return tell(stored.problem());
  if (!options.json)
    fmt::print("stored {}: entry {} {}\n", stored.value().id, k->id,
               value ? fmt::format("is {:.3f} mm now", to_mm(*value).v) : "is withdrawn");
  return tell_outcome(desk, ledger, {{stored.value(), value}});
}

}  // namespace

int record_verb(const Options& options) {
  const auto plan = plan_set_ups(options.file);
  if (!plan) return tell(plan.problem());
  if (options.correct != 0 || options.withdraw != 0) return record_change(options, plan.value());
  if (options.set_up.empty())
    return tell({"unknown_set_up", "--setup", "say which set-up was measured: its id or its number on the cards", ""});
  const auto places = options.width ? find_widths(plan.value(), options.set_up)
                                    : places_of(plan.value(), options.set_up, options.stop, 0);
  if (!places) return tell(places.problem());
  const auto blank = blank_reading(options, plan.value(), places.value().front());
  if (!blank) return tell(blank.problem());
  RecordDesk desk{options, plan.value(), places.value(), blank.value()};
  const bool from_input = options.values.empty() && options.csv.empty();
  if (!from_input) return record_at_once(desk, nullptr);
  KeyedLines keys;
  desk.blank.entered = keys.is_terminal() ? Entered::typed : Entered::piped;
  return keys.is_terminal() || options.each ? record_one_by_one(desk, keys) : record_at_once(desk, &keys);
}

}  // namespace stickwright
