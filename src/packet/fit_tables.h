// fit_tables.h - how snug a puzzle will be, as rows of tables.
#pragma once
#include <vector>

#include "batch/full_plan.h"
#include "packet/page.h"

namespace stickwright {

// As planned, and with the advice: the play of the middle puzzle and of one in twenty, how many close.
extern const std::vector<Column> kSpreadColumns;
std::vector<Row> spread_rows(const FullPlan& plan, const PuzzleFit& puzzle);

// Each size that a maker chooses: what it does to the play, what to add, and how exactly a stop has to stand.
extern const std::vector<Column> kSizeColumns;
std::vector<Row> size_rows(const FullPlan& plan, const PuzzleFit& puzzle);

// The contacts that bind in the middle puzzle, those most pressed first; what is left out is one row.
extern const std::vector<Column> kTightColumns;
std::vector<Row> tight_rows(const FullPlan& plan, const PuzzleFit& puzzle, std::size_t most);

// The steps of the way out in which something can bind; the others in one row.
extern const std::vector<Column> kSlidingColumns;
std::vector<Row> sliding_rows(const PuzzleFit& puzzle);

}  // namespace stickwright
