#include "answers/record_answer.h"

#include <fmt/core.h>

#include <nlohmann/json.hpp>

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

Json stored_json(const std::vector<RecordedEntry>& entries) {
  Json out = Json::array();
  for (const RecordedEntry& e : entries) {
    Json entry = {{"id", e.stored.id},
                  {"value_mm", e.value ? Json(to_mm(*e.value).v) : Json(nullptr)},
                  {"block", e.stored.block > 0 ? Json(e.stored.block) : Json(nullptr)},
                  {"at", e.stored.at}};
    if (e.stored.was_there) entry["was_there"] = true;
    out.push_back(std::move(entry));
  }
  return out;
}

// The value that is in the ledger under a client key, whatever was sent with it now; nothing when it was written of
// another place.
std::optional<Nm> value_there(const std::vector<StopReadings>& now, EntryId id) {
  for (const StopReadings& s : now)
    for (const KeptReading& k : s.kept)
      if (k.id == id) return k.reading.value;
  return {};
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

// The stop or the width that an entry is of.
Result<std::vector<StopPlace>> place_of_entry(const BatchPlan& plan, const std::string& set_up, int stop, int side) {
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

// The newest change of the reading, when it is the one that is asked for.
std::optional<Stored> same_change(const KeptReading& k, const EntryChange& c, std::optional<Nm> value) {
  if (!c.once || k.changes.empty()) return {};
  const Change& last = k.changes.back();
  if (last.value != value || last.by != c.by || last.note != c.note) return {};
  return Stored{.id = last.id, .at = last.at, .was_there = true};
}

Result<RecordedEntry> write_change(const RecordDesk& desk, Ledger& ledger, const KeptReading& k, const EntryChange& c) {
  RecordedEntry entry;
  if (!c.withdraw) {
    if (c.value.empty()) return Problem{"bad_value", "--correct", "the right value is missing: --correct ID VALUE", ""};
    const auto read = read_value(desk, c.value);
    if (!read) return read.problem();
    entry.value = read.value();
  }
  if (const auto before = same_change(k, c, entry.value)) {
    entry.stored = *before;
    return entry;
  }
  auto stored = c.withdraw ? ledger.withdraw(c.id, c.by, c.note) : ledger.correct(c.id, *entry.value, c.by, c.note);
  if (!stored) return stored.problem();
  entry.stored = stored.take();
  return entry;
}

}  // namespace

Result<std::vector<StopReadings>> read_back(Ledger& ledger, const BatchPlan& plan,
                                            const std::vector<StopPlace>& places) {
  std::vector<StopReadings> out;
  for (const StopPlace& place : places) {
    auto now = readings_at(ledger, plan, place);
    if (!now) return now.problem();
    out.push_back(now.take());
  }
  return out;
}

Result<Recorded> record_readings(Ledger& ledger, const RecordDesk& desk, const std::vector<Reading>& readings) {
  const auto stored = ledger.add_readings(readings);
  if (!stored) return stored.problem();
  Recorded r{{}, read_back(ledger, desk.plan, desk.places)};
  for (std::size_t i = 0; i < readings.size(); ++i) {
    r.entries.push_back({stored.value()[i], readings[i].value, readings[i].side});
    RecordedEntry& e = r.entries.back();
    if (e.stored.was_there && r.now) e.value = value_there(r.now.value(), e.stored.id);
  }
  return r;
}

Result<ChangedEntry> change_entry(const BatchPlan& plan, const std::filesystem::path& file, const EntryChange& change) {
  if (!std::filesystem::exists(file))
    return Problem{"unknown_entry", file.string(), "There is no ledger yet, so there is nothing to correct.", ""};
  auto opened = Ledger::open(file);
  if (!opened) return opened.problem();
  Ledger ledger = opened.take();
  const auto kept = ledger.readings();
  if (!kept) return kept.problem();
  const KeptReading* k = reading_of(kept.value(), change.id);
  if (!k)
    return Problem{"unknown_entry", fmt::format("entry {}", change.id), "There is no such reading in the ledger.", ""};
  const auto places = place_of_entry(plan, k->reading.set_up, k->reading.stop, k->reading.side);
  if (!places) return places.problem();
  const RecordDesk desk{plan, places.value(), {}, change.inches ? Unit::inch : Unit::mm};
  const auto entry = write_change(desk, ledger, *k, change);
  if (!entry) return entry.problem();
  return ChangedEntry{k->id, {{entry.value()}, read_back(ledger, plan, places.value())}};
}

Json recorded_json(const Recorded& recorded) {
  const std::vector<StopReadings>& now = recorded.now.value();
  const StopPlace& place = now.front().place;
  Json out = {{"setup", place.id}, {"unit", "mm"}, {"widths", Json::array()}};
  if (place.side == 0) out = stop_readings_json(now.front());
  for (const StopReadings& s : now)
    if (place.side > 0) out["widths"].push_back(stop_readings_json(s));
  out["stored"] = stored_json(recorded.entries);
  return out;
}

}  // namespace stickwright
