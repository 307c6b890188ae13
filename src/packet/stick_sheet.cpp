#include <fmt/core.h>

#include <algorithm>
#include <map>

#include "packet/packet.h"

namespace stickwright {
namespace {

constexpr double kBarHeight = 7, kLabelHeight = 3.1, kGap = 3.5;  // mm of paper
constexpr double kNumber = 12;                                    // room for a stick's number
const Font kLabel = {.points = 7};

// Equal parts in a row, as one segment of the bar.
struct Run {
  int part = 0, count = 0;
};
std::vector<Run> runs_of(const CutStick& s) {
  std::vector<Run> runs;
  for (int p : s.parts) {
    if (runs.empty() || runs.back().part != p) runs.push_back({p, 0});
    ++runs.back().count;
  }
  return runs;
}

std::string part_name(const FullPlan& plan, const WantedPart& part) {
  const std::string shape = plan.batch.split.shapes[plan.batch.set_ups[part.set_up].shape].full_name();
  return part.is_test ? "test piece, " + shape : shape;
}

std::string run_label(const FullPlan& plan, const WoodPlan& w, const Run& r) {
  return fmt::format("{} × {}", r.count, part_name(plan, w.parts[r.part]));
}

// What a page shows, one below the other: a wood's heading, or one of its sticks.
struct Item {
  const WoodPlan* wood;
  const CutStick* stick;  // null: the heading
  std::size_t number;
};

// Tests are dark; of two runs side by side one is lighter. A hatch would say wood, as on the other sheets.
double gray_of(const WantedPart& part, std::size_t run) {
  return part.is_test ? 0.55 : run % 2 == 0 ? 0.84 : 0.97;
}

// Labels stand under their segments, each on the first line where it meets no other.   returns  how many lines
std::size_t draw_labels(Canvas& canvas, Box row, const std::vector<std::pair<double, std::string>>& labels) {
  std::vector<double> ends;  // of each line
  for (const auto& [from, label] : labels) {
    const double w = canvas.text_width(label, kLabel), x = std::max(row.x, std::min(from, row.x + row.w - w));
    std::size_t line = 0;
    while (line < ends.size() && x < ends[line]) ++line;
    if (line == ends.size()) ends.push_back(0);
    Font font = kLabel;
    font.width = row.w - (x - row.x) + 0.5;
    font.ellipsis = true;
    canvas.text({x, row.y + 0.4 + kLabelHeight * static_cast<double>(line)}, label, font);
    ends[line] = x + w + 2;
  }
  return ends.size();
}

// One stick to scale: head, blocks with a line for every severing cut, what is left.   returns  the height it takes
double draw_stick(Canvas& canvas, Box row, const FullPlan& plan, const Item& item, double longest_mm) {
  const CutStick& s = *item.stick;
  const double scale = (row.w - kNumber) / longest_mm, x0 = row.x + kNumber;
  const double head = to_mm(plan.sticks.rules.head).v * scale, whole = to_mm(s.length).v * scale;
  canvas.text({row.x, row.y + 1.2}, fmt::format("{}", item.number), {.points = 11, .bold = true});
  canvas.box({x0, row.y, whole, kBarHeight}, {}, {.width = 0.35});
  canvas.box({x0, row.y, head, kBarHeight}, {.gray = 0.2}, {.width = 0.2});
  double x = x0 + head;
  std::vector<std::pair<double, std::string>> labels;
  const std::vector<Run> runs = runs_of(s);
  for (std::size_t k = 0; k < runs.size(); ++k) {
    const WantedPart& part = item.wood->parts[runs[k].part];
    const double each = to_mm(part.part.length).v * scale;
    canvas.box({x, row.y, each * runs[k].count, kBarHeight}, {.gray = gray_of(part, k)}, {.width = 0.3});
    for (int i = 1; i < runs[k].count; ++i)
      canvas.line({x + i * each, row.y}, {x + i * each, row.y + kBarHeight}, {.width = 0.12});
    labels.push_back({x, run_label(plan, *item.wood, runs[k])});
    x += each * runs[k].count;
  }
  const std::string left = fmt::format("{:.0f} mm, {:.0f} left", to_mm(s.length).v, to_mm(s.left).v);
  labels.push_back({x0 + whole - canvas.text_width(left, kLabel), left});
  const std::size_t lines = draw_labels(canvas, {x0, row.y + kBarHeight, row.w - kNumber, 0}, labels);
  return kBarHeight + kLabelHeight * static_cast<double>(lines) + kGap;
}

// The set-up card's figure; what is laid out may be rounded up by a hair.
Mm used_up(const FullPlan& plan, const WantedPart& part) {
  return part.is_test ? to_mm(part.part.length) : plan.batch.set_ups[part.set_up].stick_per_block;
}

double draw_heading(Canvas& canvas, Box row, const FullPlan& plan, const WoodPlan& w) {
  const CutPlan& p = w.plan;
  double y = row.y;
  y += canvas.text({row.x, y}, fmt::format("{}: {} {}", w.wood, p.used(), p.used() == 1 ? "stick" : "sticks"),
                   {.points = 12, .bold = true}) +
       0.5;
  const std::string proof =
      p.verdict == Verdict::found ? "No plan uses fewer." : fmt::format("Any plan needs at least {}.", p.bound);
  const std::string milling =
      w.to_mill == 0 ? "All are milled already."
                     : fmt::format("Rough: {}; mill to {:.2f} mm square.", w.to_mill, plan.batch.batch.stick.v);
  std::string lengths;
  for (const WantedPart& part : w.parts)
    lengths += fmt::format("{}{} {:.2f} mm", lengths.empty() ? " Each uses up, kerf included: " : "; ",
                           part_name(plan, part), used_up(plan, part).v);
  y += canvas.text({row.x, y}, proof + " " + milling + lengths + ".", {.points = 8, .width = row.w}) + 2.5;
  return y - row.y;
}

double draw_item(Canvas& canvas, Box row, const FullPlan& plan, const Item& item, double longest_mm) {
  return item.stick ? draw_stick(canvas, row, plan, item, longest_mm) : draw_heading(canvas, row, plan, *item.wood);
}

double draw_rules(Canvas& canvas, Box area, const FullPlan& plan) {
  return canvas.text(
             {area.x, area.y},
             fmt::format("Black: {:.1f} mm at the head. A fresh stick gets one full miter first: any corner up, "
                         "its square end past the blade, not against the stop. The end is not cut once {:.1f} mm "
                         "are left: it cannot be held. Dark gray: test pieces.",
                         to_mm(plan.sticks.rules.head).v, to_mm(plan.sticks.rules.tail).v),
             {.points = 8, .width = area.w}) +
         3;
}

std::vector<Row> totals(const FullPlan& plan) {
  std::vector<Row> rows;
  for (const WoodPlan& w : plan.sticks.woods) {
    double length = 0, left = 0;
    std::map<int, int> parts;
    for (const CutStick& s : w.plan.sticks) {
      length += to_mm(s.length).v, left += to_mm(s.left).v;
      for (int p : s.parts) ++parts[p];
    }
    std::string sawn;
    for (const auto& [part, count] : parts)
      sawn += fmt::format("{}{} {}", sawn.empty() ? "" : ", ", count, part_name(plan, w.parts[part]));
    rows.push_back({w.wood, sawn, fmt::format("{}", w.plan.used()), "",
                    w.plan.verdict == Verdict::found ? "fewest" : fmt::format("at least {}", w.plan.bound),
                    fmt::format("{:.2f}", length / 1000), fmt::format("{:.2f}", left / 1000)});
  }
  return rows;
}

const std::vector<Column> kTotals = {{"wood", 1.2},
                                     {"sawn", 3.4},
                                     {"sticks", 0.6, Align::right},
                                     {"", 0.15},
                                     {"proven", 0.9},
                                     {"length, m", 0.9, Align::right},
                                     {"left, m", 0.8, Align::right}};

// Adds the totals where they fit below the last stick, else as pages of their own.
void add_totals(Sheets& sheets, double used) {
  const std::vector<Row> rows = totals(sheets.plan);
  const Box room = {sheets.area.x, sheets.area.y + used, sheets.area.w, sheets.area.h - used};
  if (room.h < 12 || rows_that_fit(sheets.paper, room, kTotals, rows, 0) < rows.size() ||
      draw_table(sheets.paper, room, kTotals, rows, 0).y > sheets.area.y + sheets.area.h)
    return add_table_pages(sheets.pages, sheets.paper, sheets.area, "Sticks: totals", kTotals, rows);
  Page& last = sheets.pages.back();
  last.draw = [before = last.draw, rows, used](Canvas& canvas, Box area) {
    before(canvas, area);
    draw_table(canvas, {area.x, area.y + used, area.w, area.h - used}, kTotals, rows, 0);
  };
}

}  // namespace

void add_stick_sheets(Sheets& sheets) {
  const FullPlan& plan = sheets.plan;
  std::vector<Item> items;
  double longest = 1;
  std::size_t number = 0;
  for (const WoodPlan& w : plan.sticks.woods) {
    items.push_back({&w, nullptr, 0});
    for (const CutStick& s : w.plan.sticks) {
      items.push_back({&w, &s, ++number});
      longest = std::max(longest, to_mm(s.length).v);
    }
  }
  const double top = draw_rules(sheets.paper, sheets.area, plan);
  double y = top;
  for (std::size_t first = 0, last = 0; first < items.size(); first = last) {
    for (y = top; last < items.size(); ++last) {
      double h = draw_item(sheets.paper, sheets.area, plan, items[last], longest);
      // A heading stays with its first stick.
      const double with =
          items[last].stick ? h : h + draw_item(sheets.paper, sheets.area, plan, items[last + 1], longest);
      if (y + with > sheets.area.h && last > first) break;
      y += h;
    }
    const std::vector<Item> part(items.begin() + static_cast<std::ptrdiff_t>(first),
                                 items.begin() + static_cast<std::ptrdiff_t>(last));
    sheets.pages.push_back({"Sticks",
                            [&plan, part, longest](Canvas& canvas, Box area) {
                              double at = area.y + draw_rules(canvas, area, plan);
                              for (const Item& item : part)
                                at += draw_item(canvas, {area.x, at, area.w, 0}, plan, item, longest);
                            },
                            first > 0});
  }
  add_totals(sheets, y + 2);
}

}  // namespace stickwright
