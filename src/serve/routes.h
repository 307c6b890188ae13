// routes.h - every call that the page can make, by what it is about. The page's contract: docs/api.yaml.
#pragma once
#include <vector>

#include "serve/call.h"

namespace stickwright {

std::vector<Route> folder_routes();  // what lies in the folder; pairing
std::vector<Route> job_routes();     // long work: progress, results as they come, cancel
std::vector<Route> puzzle_routes();  // designs: seen, built, checked, taken apart
std::vector<Route> saw_routes();     // set-ups, truing, corrections
std::vector<Route> ledger_routes();  // readings in and out
std::vector<Route> batch_routes();   // sticks, week, cost, packet
std::vector<Route> fit_routes();     // play, year, advice, sorting

std::vector<Route> all_routes();

}  // namespace stickwright
