#include "serve/routes.h"

#include <iterator>

namespace stickwright {

std::vector<Route> all_routes() {
  std::vector<Route> out;
  for (auto* routes : {folder_routes, job_routes, puzzle_routes, saw_routes, ledger_routes, batch_routes, fit_routes}) {
    auto more = routes();
    out.insert(out.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
  }
  return out;
}

}  // namespace stickwright
