#include <fmt/core.h>

#include <cstdio>
#include <fstream>
#include <nlohmann/json.hpp>
#include <span>
#include <sstream>

#include "answers/record_answer.h"
#include "batch/wording.h"
#include "cli/exit_code.h"
#include "cli/keyed_lines.h"
#include "cli/say.h"
#include "cli/verbs.h"

namespace stickwright {
namespace {

Result<std::string> content_of(const std::string& file) {
  std::error_code error;
  std::ifstream in(file, std::ios::binary);
  if (!in.is_open() || std::filesystem::is_directory(file, error))
    return Problem{"no_file", file, "is no file that can be read; is the name right?", ""};
  std::stringstream all;
  all << in.rdbuf();
  return all.str();
}

// All that stands on the command line, in the file or in the pipe: it is stored whole or not at all.
Result<std::vector<Reading>> read_all(const Options& options, const RecordDesk& desk, KeyedLines* keys) {
  if (!options.csv.empty()) {
    const auto table = content_of(options.csv);
    if (!table) return table.problem();
    return read_table(desk, options.csv, table.value());
  }
  std::string text;
  if (keys)
    for (std::string line; keys->next(line);) text += line + "\n";
  for (const std::string& value : options.values) text += value + "\n";
  auto readings = read_line(desk, text);
  if (readings && readings.value().empty())
    return Problem{"no_readings", "", "There is nothing to record: give readings after the set-up, or one a line.", ""};
  return readings;
}

// "stored 12: 16.020 mm", "stored 13: block 7, width 1: 15.980 mm"
std::string stored_line(const RecordedEntry& e) {
  std::string out = fmt::format("stored {}: ", e.stored.id);
  if (e.stored.block > 0) out += fmt::format("block {}{}", e.stored.block, e.side > 0 ? ", " : ": ");
  if (e.side > 0) out += fmt::format("width {}: ", e.side);
  return out + fmt::format("{:.3f} mm", to_mm(*e.value).v);
}

const Program& program_at(const BatchPlan& plan, const StopPlace& place) {
  return plan.set_ups[place.set_up].program;
}

int tell_outcome(const Options& options, const BatchPlan& plan, const Recorded& recorded) {
  if (!recorded.now) return tell(recorded.now.problem());
  if (options.json) {
    print_json(recorded_json(recorded));
    return kDone;
  }
  const std::vector<StopReadings>& now = recorded.now.value();
  const StopPlace& place = now.front().place;
  for (const StopReadings& s : now)
    if (place.side == 0 || !s.kept.empty()) fmt::print("{}", stop_readings_report(s));
  if (place.side > 0) fmt::print("Which is which: {}\n", widths_in_words(program_at(plan, place)));
  return kDone;
}

int record_at_once(const Options& options, const RecordDesk& desk, KeyedLines* keys) {
  const auto readings = read_all(options, desk, keys);
  if (!readings) return tell(readings.problem());
  auto opened = Ledger::open(ledger_path(options.file));
  if (!opened) return tell(opened.problem());
  Ledger ledger = opened.take();
  const auto recorded = record_readings(ledger, desk, readings.value());
  if (!recorded) return tell(recorded.problem());
  if (!options.json)
    for (const RecordedEntry& e : recorded.value().entries) fmt::print("{}\n", stored_line(e));
  return tell_outcome(options, desk.plan, recorded.value());
}

// "stored 12: 16.020 mm; mean of 5: 16.0120 mm; go_on", and what the newest reading sets off.
std::string acknowledged(const StopReadings& now, std::span<const RecordedEntry> entries) {
  std::string out;
  for (const RecordedEntry& e : entries)
    if (e.side == now.place.side) out += stored_line(e) + "; ";
  if (out.empty()) return out;
  const RunReport& r = now.report;
  if (r.mean) out += fmt::format("mean of {}: {:.4f} mm; ", r.readings, *r.mean);
  out += fmt::format("{}\n", to_string(r.advice));
  if (r.advice == Advice::stop) out += fmt::format("  {}\n", advice_line(now));
  for (const Signal& s : r.signals)
    if (s.last + 1 == r.readings)
      out += fmt::format("  signal: {}{}\n", signal_in_words(s),
                         fmt::format("; first {}", usual_cause(s, now.wanted.of).check));
  return out;
}

std::string greeting(const RecordDesk& desk) {
  const std::string what = desk.of_widths() ? "widths" : desk.place().size();
  std::string out = fmt::format("{}, {}: {:.3f} mm wanted. ", desk.place().id, what, desk.wanted().size);
  if (!desk.of_widths()) return out + "A reading a line; Ctrl-D ends.\n";
  return out + fmt::format("A block a line, {}; Ctrl-D ends.\n{}\n",
                           desk.places.size() > 1 ? "as 15.98/16.01" : "one value",
                           widths_in_words(program_at(desk.plan, desk.place())));
}

// Each entry is stored and answered before the next is read; one that is refused keeps nobody from going on.
int record_one_by_one(const Options& options, RecordDesk desk, KeyedLines& keys) {
  auto opened = Ledger::open(ledger_path(options.file));
  if (!opened) return tell(opened.problem());
  Ledger ledger = opened.take();
  std::FILE* answers = options.json ? stderr : stdout;
  std::vector<RecordedEntry> entries;
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
    const auto recorded = record_readings(ledger, desk, readings.value());
    if (!recorded) return tell(recorded.problem());
    const Recorded& r = recorded.value();
    if (!r.now) return tell(r.now.problem());
    for (const StopReadings& s : r.now.value()) fmt::print(answers, "{}", acknowledged(s, r.entries));
    entries.insert(entries.end(), r.entries.begin(), r.entries.end());
    if (desk.blank.block > 0) desk.blank.block = entries.back().stored.block + 1;
  }
  const Recorded all{entries, read_back(ledger, desk.plan, desk.places)};
  if (const int told = tell_outcome(options, desk.plan, all); told != kDone) return told;
  return refused > 0 && !keys.is_terminal() ? kBadInput : kDone;
}

int record_change(const Options& options, const BatchPlan& plan) {
  EntryChange change{options.withdraw != 0 ? options.withdraw : options.correct,
                     options.withdraw != 0,
                     "",
                     options.inches,
                     options.by,
                     options.note};
  for (const std::string& v : options.values) change.value += v + " ";
  const auto changed = change_entry(plan, ledger_path(options.file), change);
  if (!changed) return tell(changed.problem());
  const RecordedEntry& entry = changed.value().recorded.entries.front();
  if (!options.json)
    fmt::print("stored {}: entry {} {}\n", entry.stored.id, changed.value().reading,
               entry.value ? fmt::format("is {:.3f} mm now", to_mm(*entry.value).v) : "is withdrawn");
  return tell_outcome(options, plan, changed.value().recorded);
}

}  // namespace

int record_verb(const Options& o) {
  const auto plan = plan_set_ups(o.file);
  if (!plan) return tell(plan.problem());
  if (o.correct != 0 || o.withdraw != 0) return record_change(o, plan.value());
  const auto places = places_to_record(plan.value(), o.set_up, o.stop, o.width);
  if (!places) return tell(places.problem());
  const auto set =
      record_desk(plan.value(), places.value(), {o.stick, o.wood, o.by, o.instrument, o.note, o.block, o.inches});
  if (!set) return tell(set.problem());
  RecordDesk desk = set.value();
  const bool from_input = o.values.empty() && o.csv.empty();
  if (!from_input) return record_at_once(o, desk, nullptr);
  KeyedLines keys;
  desk.blank.entered = keys.is_terminal() ? Entered::typed : Entered::piped;
  return keys.is_terminal() || o.each ? record_one_by_one(o, desk, keys) : record_at_once(o, desk, &keys);
}

}  // namespace stickwright
