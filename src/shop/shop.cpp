#include "shop/shop.h"

#include <fmt/core.h>

#include <algorithm>

#include "shop/gluing_reading.h"
#include "shop/jig_reading.h"
#include "shop/reading.h"
#include "text/toml_reader.h"

namespace stickwright {
namespace {

constexpr Seconds kMinute{60}, kHour{3600}, kDay{86400};
constexpr TimeRange kStep{Seconds{0}, Seconds{2 * kHour.v}};  // time spent at the bench on one thing
constexpr TimeRange kWait{Seconds{0}, Seconds{60 * kDay.v}};  // time that a thing stands by itself

Blade read_blade(const Table& t) {
  Blade blade;
  blade.kerf = t.length("kerf", {Mm{0.5}, Mm{10}});
  blade.diameter = t.length("diameter", {Mm{50}, Mm{700}});
  blade.teeth = static_cast<int>(t.integer("teeth", {2, 300}));
  read_blade_work(t, blade);
  return blade;
}

// A stop as long as the way to the blade would be sawn; one given twice is most likely a slip of the pen.
void check_stops(const Table& t, const Sled& sled) {
  for (std::size_t i = 0; i < sled.square_stops.size(); ++i) {
    const Mm stop = sled.square_stops[i];
    if (sled.back_to_blade.v > 0 && stop >= sled.back_to_blade)
      t.report("square_stops", i, "bad_stop",
               fmt::format("expected a stop shorter than back_to_blade, {} mm, found {} mm: it would reach the blade",
                           sled.back_to_blade.v, stop.v));
    if (std::count(sled.square_stops.begin(), sled.square_stops.begin() + static_cast<std::ptrdiff_t>(i), stop) > 0)
      t.report("square_stops", i, "bad_stop",
               fmt::format("expected each stop once, found {} mm again: write its measured length, or leave it out",
                           stop.v));
  }
}

Sled read_sled(const Table& t, std::span<const Material> own) {
  Sled sled;
  sled.back_to_blade = t.length("back_to_blade", {Mm{20}, Mm{3000}});
  sled.back_to_blade_at = t.place("back_to_blade");
  sled.closest_stop = t.length("closest_stop", {Mm{1}, Mm{500}});
  sled.square_stops = t.lengths_or_none("square_stops", {Mm{5}, Mm{3000}});
  sled.mitered_blank = t.length("mitered_blank", {Mm{20}, Mm{3000}});
  sled.clamp_side = t.choice("clamp_side", {"left", "right"}) == 0 ? Side::left : Side::right;
  read_sled_jig(t, own, sled);
  check_stops(t, sled);
  if (sled.back_to_blade.v > 0 && sled.closest_stop >= sled.back_to_blade)
    t.report("closest_stop", "bad_stop",
             fmt::format("expected less than back_to_blade, {} mm, found {} mm: no stop would fit between",
                         sled.back_to_blade.v, sled.closest_stop.v));
  return sled;
}

WornSize read_worn(const Table& t, NominalRange block) {
  WornSize worn{t.nominal("size", block), t.nominal("is", block), {}};
  if (t.has("give_or_take")) worn.give_or_take = t.nominal("give_or_take", {Nm{0}, Nm{50'000}});
  return worn;
}

GaugeBox read_gauge_blocks(const Table& t) {
  const NominalRange block{Nm{100'000}, Nm{500'000'000}};
  GaugeBox box;
  if (t.exactly_one_of({"set", "sizes"}) == 0)
    box.set = t.text_or("set", "");
  else
    box.sizes = t.nominals("sizes", block);
  box.grade = t.text("grade");
  box.missing = t.nominals_or_none("missing", block);
  for (const Table& worn : t.tables_or_none("worn")) box.worn.push_back(read_worn(worn, block));
  if (t.has("within")) box.within = t.nominal("within", {Nm{0}, Nm{100'000}});
  box.set_at = t.place(t.has("set") ? "set" : "sizes");
  box.grade_at = t.place("grade");
  box.missing_at = t.place("missing");
  box.worn_at = t.place("worn");
  return box;
}

std::vector<Nm> read_leaves(const Table& t) {
  auto leaves = t.nominals("leaves", {Nm{5'000}, Nm{5'000'000}});
  std::sort(leaves.begin(), leaves.end());
  return leaves;
}

Caliper read_caliper(const Table& t) {
  return {t.text("name"), t.length("resolution", {Mm{0.0001}, Mm{0.5}}), t.length("repeat", {Mm{0}, Mm{0.5}})};
}

RackStick read_rack_stick(const Table& t) {
  RackStick stick;
  stick.wood = read_wood(t, "wood");
  if (t.has("section")) stick.section = t.length("section", kStickSection);
  stick.length = t.length("length", {Mm{50}, Mm{6000}});
  stick.count = static_cast<int>(t.integer("count", {1, 10'000}));
  stick.at = t.place();
  return stick;
}

void read_sawing_times(const Table& t, StepTimes& times) {
  times.open_up = t.duration_or("open_up", kStep, Seconds{0});
  times.clear_up = t.duration_or("clear_up", kStep, Seconds{0});
  times.true_saw = t.duration_or("true_saw", kStep, Seconds{0});
  times.set_up = t.duration("set_up", kStep);
  times.stop = t.duration("stop", kStep);
  times.test_block = t.duration("test_block", kStep);
  times.mill = t.duration("mill", kStep);
  times.cut = t.duration("cut", {Seconds{1}, kHour});
  times.turn = t.duration_or("turn", kStep, Seconds{0});
  times.measure = t.duration("measure", kStep);
  times.measured_every = static_cast<int>(t.integer_or("measured_every", {1, 1000}, 5));
}

void read_gluing_times(const Table& t, StepTimes& times) {
  times.glue = t.duration("glue", kStep);
  times.clamp = t.duration("clamp", {kMinute, kDay});
  times.cure = t.duration("cure", kWait);
  times.clamps = static_cast<int>(t.integer("clamps", {1, 1000}));
  times.ease = t.duration("ease", kStep);
  times.fit = t.duration("fit", kStep);
  times.coats = static_cast<int>(t.integer_or("coats", {0, 20}, 0));
  // Times that nobody needs when nothing is coated.
  times.coat = times.coats > 0 ? t.duration("coat", kStep) : t.duration_or("coat", kStep, Seconds{0});
  times.drying = times.coats > 0 ? t.duration("drying", kWait) : t.duration_or("drying", kWait, Seconds{0});
  times.pack = t.duration_or("pack", kStep, Seconds{0});
}

StepTimes read_times(const Table& t) {
  StepTimes times;
  read_sawing_times(t, times);
  read_gluing_times(t, times);
  return times;
}

std::string show_clock(Seconds s) {
  return fmt::format("{:02}:{:02}", s.v / 3600, s.v / 60 % 60);
}

WorkingHours read_hours(const Table& t) {
  // Monday is chrono's day 1; its constructor takes 7 for Sunday, too.
  const auto day = t.choice("day", {"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"});
  WorkingHours hours{std::chrono::weekday(static_cast<unsigned>(day) + 1), t.clock("from"), t.clock("to")};
  if (t.has("to") && hours.to <= hours.from)
    t.report("to", "bad_hours",
             fmt::format("to: expected a time later than from, {}, found {}; for work past midnight write two entries",
                         show_clock(hours.from), show_clock(hours.to)));
  return hours;
}

// Monday 0 to Sunday 6.
unsigned day_index(const WorkingHours& h) {
  return h.day.iso_encoding() - 1;
}

void check_overlaps(const std::vector<Table>& tables, const std::vector<WorkingHours>& hours) {
  for (std::size_t i = 0; i < hours.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      if (hours[i].day == hours[j].day && hours[i].from < hours[j].to && hours[j].from < hours[i].to)
        tables[i].report("from", "bad_hours",
                         fmt::format("expected hours that do not overlap; on this day {} to {} was given already",
                                     show_clock(hours[j].from), show_clock(hours[j].to)));
}

std::vector<WorkingHours> read_calendar(const Document& document) {
  const auto tables = document.root().tables("hours");
  std::vector<WorkingHours> hours;
  for (const Table& t : tables) hours.push_back(read_hours(t));
  if (document.sound()) check_overlaps(tables, hours);
  std::sort(hours.begin(), hours.end(), [](const WorkingHours& a, const WorkingHours& b) {
    return std::pair(day_index(a), a.from) < std::pair(day_index(b), b.from);
  });
  return hours;
}

Result<Shop> shop_in(const Document& document) {
  const Table root = document.root();
  root.format(1);
  Shop shop;
  shop.source = document.source();
  shop.name = root.text("name");
  shop.paper = read_paper(root).value_or(Paper::a4);
  shop.days_off = root.dates_or_none("days_off");
  std::sort(shop.days_off.begin(), shop.days_off.end());
  shop.blade = read_blade(root.table("blade"));
  shop.materials = read_materials(root.tables_or_none("material"));
  shop.sled = read_sled(root.table("sled"), shop.materials);
  shop.cradles = read_cradles(root.tables_or_none("cradle"), shop.materials);
  shop.air = read_air(root.table_if("air"));
  shop.known = read_known(root.table_if("known"));
  shop.square = read_square(root.table_if("square"));
  shop.glue = read_glue(root.table_if("glue"));
  shop.fit = read_fit_means(root.table_if("fit"));
  shop.gauge_blocks = read_gauge_blocks(root.table("gauge_blocks"));
  shop.feeler_leaves = read_leaves(root.table("feeler_leaves"));
  shop.caliper = read_caliper(root.table("caliper"));
  shop.shortest_tail = root.table("sticks").length("shortest_tail", {Mm{10}, Mm{2000}});
  for (const Table& t : root.tables("rack")) shop.rack.push_back(read_rack_stick(t));
  shop.times = read_times(root.table("times"));
  shop.hours = read_calendar(document);
  return document.finish(std::move(shop));
}

}  // namespace

Result<Shop> load_shop(const std::filesystem::path& path) {
  const auto document = read_toml(path);
  if (!document) return document.problem();
  return shop_in(document.value());
}

Result<Shop> parse_shop(std::string_view text, const std::string& file) {
  const auto document = parse_toml(text, file);
  if (!document) return document.problem();
  return shop_in(document.value());
}

}  // namespace stickwright
