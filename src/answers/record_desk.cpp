#include "answers/record_desk.h"

#include <fmt/core.h>

#include "answers/record_checks.h"
#include "ledger/reading_csv.h"
#include "text/utf8.h"

namespace stickwright {
namespace {

// The reading of one of the widths of a block, the second of two if another stands before it.
Reading width_reading(const RecordDesk& desk, std::size_t which, Nm value, bool second) {
  Reading r = desk.blank;
  r.side = desk.places[which].side;
  r.value = value;
  if (second && r.block == kNextBlock) r.block = kSameBlock;
  return r;
}

// "15.98/16.01", "15.98", "/16.01": adds the readings of one block.
std::optional<Problem> read_widths(const RecordDesk& desk, const std::string& text, std::vector<Reading>& out) {
  const std::size_t slash = text.find('/');
  const bool has_second = slash != std::string::npos, has_first = slash != 0;
  if (has_second && desk.places.size() < 2) return no_second_width(desk);
  if (has_first) {
    const auto value = read_value(desk, text.substr(0, slash));
    if (!value) return value.problem();
    out.push_back(width_reading(desk, 0, value.value(), false));
  }
  if (has_second) {
    const auto value = read_value(desk, text.substr(slash + 1));
    if (!value) return value.problem();
    out.push_back(width_reading(desk, 1, value.value(), has_first));
  }
  return {};
}

std::optional<Problem> bad_line(std::initializer_list<std::string> texts) {
  for (const std::string& text : texts)
    if (!is_one_line(text)) return Problem{"bad_text", "", "A name or a note has to be one line of UTF-8 text.", ""};
  return {};
}

// Numbers count by wood, so it is written down even where there is only one.
void say_the_only_wood(const SetUp& s, Reading& r) {
  if (r.block != 0 && r.wood.empty() && s.needed.size() == 1) r.wood = s.needed.begin()->first;
}

Result<Reading> blank_reading(const BatchPlan& plan, const StopPlace& place, const ReadingNotes& o) {
  if (auto problem = bad_line({o.stick, o.by, o.instrument, o.note})) return *problem;
  const auto wood = wood_named(o.wood);
  if (!wood) return wood.problem();
  Reading r;
  r.set_up = place.id;
  r.stop = place.number();
  r.side = place.side;
  r.stick = o.stick;
  r.wood = wood.value();
  r.block = o.block > 0 ? o.block : place.side > 0 ? kNextBlock : 0;
  say_the_only_wood(plan.set_ups[place.set_up], r);
  r.instrument = o.instrument.empty() ? plan.batch.shop.caliper.name : o.instrument;
  r.by = o.by;
  r.note = o.note;
  return r;
}

// The desk of one entry: with what it says of itself.
Result<RecordDesk> desk_of(const RecordDesk& desk, const SentReading& sent) {
  if (auto problem = bad_line({sent.stick, sent.note, sent.client_key})) return *problem;
  if (sent.block < 0) return Problem{"bad_block", "", "The number on a block is 1 or more.", ""};
  if (!sent.taken_at.empty() && !is_time(sent.taken_at))
    return Problem{"bad_time", "",
                   fmt::format("expected a time such as 2031-02-04T18:30:05Z, found \"{}\"", sent.taken_at), ""};
  const auto wood = wood_named(sent.wood);
  if (!wood) return wood.problem();
  RecordDesk own = desk;
  own.blank.taken_at = sent.taken_at;
  if (!wood.value().empty()) own.blank.wood = wood.value();
  if (!sent.stick.empty()) own.blank.stick = sent.stick;
  if (!sent.note.empty()) own.blank.note = sent.note;
  if (sent.block > 0) own.blank.block = sent.block;
  say_the_only_wood(own.plan.set_ups[own.place().set_up], own.blank);
  return own;
}

Result<std::vector<Reading>> read_entry(const RecordDesk& desk, const SentReading& sent) {
  const auto own = desk_of(desk, sent);
  if (!own) return own.problem();
  auto read = read_line(own.value(), sent.text);
  if (!read) return read.problem();
  std::vector<Reading> readings = read.take();
  if (readings.empty()) return Problem{"no_readings", "", "There is nothing to record.", ""};
  for (std::size_t i = 0; i < readings.size() && !sent.client_key.empty(); ++i)
    readings[i].client_key = i == 0 ? sent.client_key : fmt::format("{}/{}", sent.client_key, i + 1);
  return readings;
}

}  // namespace

Result<std::vector<StopPlace>> places_to_record(const BatchPlan& plan, const std::string& set_up, int stop,
                                                bool of_widths) {
  if (set_up.empty())
    return Problem{"unknown_set_up", "--setup", "say which set-up was measured: its id or its number on the cards", ""};
  if (of_widths) return find_widths(plan, set_up);
  const auto place = find_stop(plan, set_up, stop);
  if (!place) return place.problem();
  return std::vector{place.value()};
}

Result<RecordDesk> record_desk(const BatchPlan& plan, const std::vector<StopPlace>& places, const ReadingNotes& notes) {
  const auto blank = blank_reading(plan, places.front(), notes);
  if (!blank) return blank.problem();
  return RecordDesk{plan, places, blank.value(), notes.inches ? Unit::inch : Unit::mm};
}

Result<Nm> read_value(const RecordDesk& desk, const std::string& text) {
  const auto value = parse_typed(text, desk.unit);
  if (!value) return value.problem();
  if (auto problem = impossible(desk, value.value())) return *problem;
  return value.value();
}

Result<std::vector<Reading>> read_line(const RecordDesk& desk, const std::string& line) {
  std::vector<Reading> readings;
  for (const std::string& text : split_typed(line)) {
    const std::size_t before = readings.size();
    if (desk.of_widths()) {
      if (auto problem = read_widths(desk, text, readings)) return *problem;
    } else {
      const auto value = read_value(desk, text);
      if (!value) return value.problem();
      readings.push_back(desk.blank);
      readings.back().value = value.value();
    }
    if (desk.blank.block > 0 && before > 0)
      for (std::size_t i = before; i < readings.size(); ++i) readings[i].block = readings[before - 1].block + 1;
  }
  return readings;
}

Result<std::vector<Reading>> read_sent(const RecordDesk& desk, std::span<const SentReading> entries) {
  if (entries.empty()) return Problem{"no_readings", "entries", "There is nothing to record.", ""};
  std::vector<Reading> all;
  RecordDesk next = desk;
  for (std::size_t k = 0; k < entries.size(); ++k) {
    const auto readings = read_entry(next, entries[k]);
    if (!readings) return Problem{readings.problem().code, fmt::format("entries[{}]", k), readings.problem().say, ""};
    all.insert(all.end(), readings.value().begin(), readings.value().end());
    if (next.blank.block > 0) next.blank.block = all.back().block + 1;
  }
  return all;
}

}  // namespace stickwright
