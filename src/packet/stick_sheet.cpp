#include <fmt/core.h>

#include <algorithm>
#include <array>

#include "packet/packet.h"

namespace stickwright {
namespace {

constexpr double kBarHeight = 7, kBarStep = 17.5, kLabelStep = 2.9;

const std::string& shape_name(const FullPlan& plan, const WantedPart& part, std::string& scratch) {
  scratch = plan.batch.split.shapes[plan.batch.set_ups[part.set_up].shape].full_name();
  return scratch;
}

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

// One stick to scale: head, blocks with a line for every severing cut, what is left.
void draw_bar(Canvas& canvas, Box row, const FullPlan& plan, const WoodPlan& w, const CutStick& s, double longest_mm,
              std::size_t number) {
  const double scale = (row.w - 14) / longest_mm, x0 = row.x + 12;
  canvas.text({row.x, row.y + 1.2}, fmt::format("{}", number), {.points = 11, .bold = true});
  double x = x0 + to_mm(plan.sticks.rules.head).v * scale;
  canvas.box({x0, row.y, to_mm(s.length).v * scale, kBarHeight}, {}, {.width = 0.35});
  canvas.box({x0, row.y, x - x0, kBarHeight}, {.gray = 0.2}, {.width = 0.2});
  std::array<double, 3> label_end{};  // by line below the bar
  for (const Run& r : runs_of(s)) {
    const WantedPart& part = w.parts[r.part];
    const double each = to_mm(part.part.length).v * scale, width = each * r.count;
    canvas.box(
        {x, row.y, width, kBarHeight},
        {.gray = part.is_test ? 0.6 : 0.93, .hatch = hatch_of(static_cast<std::size_t>(part.set_up)), .hatch_gap = 1.3},
        {.width = 0.2});
    for (int i = 1; i < r.count; ++i)
      canvas.line({x + i * each, row.y}, {x + i * each, row.y + kBarHeight}, {.width = 0.12});
    std::string scratch;
    const std::string label =
        fmt::format("{} × {}{}", r.count, part.is_test ? "test piece, " : "", shape_name(plan, part, scratch));
    const Font font = {.points = 7};
    const double wide = canvas.text_width(label, font), at = std::min(x, row.x + row.w - wide);
    const auto line = static_cast<std::size_t>(
        std::find_if(label_end.begin(), label_end.end() - 1, [&](double end) { return end <= at; }) -
        label_end.begin());
    canvas.text({at, row.y + kBarHeight + 0.4 + kLabelStep * static_cast<double>(line)}, label, font);
    label_end[line] = at + wide + 2;
    x += width;
  }
  canvas.text({x0 + to_mm(s.length).v * scale - 1, row.y + 2.1}, fmt::format("{:.0f} mm left", to_mm(s.left).v),
              {.points = 7, .align = Align::right});
}

// What one page shows.
struct Item {
  const WoodPlan* wood;
  const CutStick* stick;  // null: the heading of a wood
  std::size_t number;
};

void draw_item(Canvas& canvas, Box row, const FullPlan& plan, const Item& item, double longest_mm) {
  if (item.stick) return draw_bar(canvas, row, plan, *item.wood, *item.stick, longest_mm, item.number);
  const CutPlan& p = item.wood->plan;
  canvas.text({row.x, row.y + 1}, fmt::format("{}: {} sticks", item.wood->wood, p.used()),
              {.points = 12, .bold = true});
  const std::string proof =
      p.verdict == Verdict::found ? "No plan uses fewer." : fmt::format("Any plan needs at least {}.", p.bound);
  const std::string milling = item.wood->to_mill == 0
                                  ? "All are milled already."
                                  : fmt::format("{} of them are rough: mill these to {:.2f} mm square.",
                                                item.wood->to_mill, plan.batch.batch.stick.v);
  canvas.text({row.x, row.y + 6.6}, proof + " " + milling, {.points = 8});
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
  const auto per_page = static_cast<std::size_t>((sheets.area.h - 14) / kBarStep);
  for (std::size_t first = 0; first < items.size(); first += per_page) {
    const std::vector<Item> part(items.begin() + static_cast<std::ptrdiff_t>(first),
                                 items.begin() + static_cast<std::ptrdiff_t>(std::min(first + per_page, items.size())));
    sheets.pages.push_back(
        {"Sticks", [&plan, part, longest](Canvas& canvas, Box area) {
           double y = area.y;
           y += canvas.text({area.x, y},
                            fmt::format("Black: {:.1f} mm at the head. A fresh stick gets one full miter first: any "
                                        "corner up, its square end past the blade, not against the stop. "
                                        "The end is not cut once {:.1f} mm are left: it cannot be held.",
                                        to_mm(plan.sticks.rules.head).v, to_mm(plan.sticks.rules.tail).v),
                            {.points = 8, .width = area.w}) +
                3;
           for (const Item& item : part) {
             draw_item(canvas, {area.x, y, area.w, kBarStep}, plan, item, longest);
             y += kBarStep;
           }
         }});
  }
}

}  // namespace stickwright
