// packet.h - the printed packet: everything that the evening at the saw needs, on paper. What is on it: docs/packet.md.
#pragma once
#include <string>

#include "batch/full_plan.h"
#include "packet/page.h"

namespace stickwright {

// Draws the packet as one PDF, vector, fonts embedded; equal plans give equal files.
//   errors   cannot_write; the file is then as it was
Result<int> write_packet(const FullPlan& plan, Paper paper, const std::string& path);  // number of pages

// The packet in the making: pages are laid out for one paper. What is drawn on it is thrown away: it only tells how
// much room things take.
struct Sheets {
  const FullPlan& plan;
  Canvas& paper;
  Box area;
  std::vector<Page> pages;
};
// Each appends its own sheets; the cover comes last, goes in front, and lists the others.
void add_truing_card(Sheets& sheets);
void add_fit_sheets(Sheets& sheets);                         // before the cards: the advice is about their stops
void add_set_up_cards(Sheets& sheets);                       // each with its page to measure and correct
void add_measure_pages(Sheets& sheets, std::size_t set_up);  // of one set-up
void add_stick_sheets(Sheets& sheets);
void add_glue_sheets(Sheets& sheets);
void add_week_sheets(Sheets& sheets);
void add_owner_sheets(Sheets& sheets);
void add_cover(Sheets& sheets);

// The batch's woods, sorted: their place tells the hatch that stands for them in pictures.
std::vector<std::string> woods_in(const FullPlan& plan);
Hatch hatch_of_wood(const FullPlan& plan, const std::string& wood);
// A row of small boxes that says which hatch is which wood.   returns  its height
double draw_wood_key(Canvas& canvas, At at, const FullPlan& plan);

}  // namespace stickwright
