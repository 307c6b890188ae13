#include "serve/check_job.h"
#include "serve/design_answer.h"
#include "serve/design_save.h"
#include "serve/glue_answer.h"
#include "serve/puzzle_answer.h"
#include "serve/routes.h"
#include "serve/workbench.h"

namespace stickwright {
namespace {

// A call that needs nothing but the folder.
template <class F>
Handler in_folder(F answer) {
  return [answer](Workbench& bench, const Call& call) { return answer(bench.folder(), call); };
}

}  // namespace

std::vector<Route> puzzle_routes() {
  return {{"GET", "/api/puzzle", puzzle_reply},
          {"POST", "/api/glue", in_folder(glue_reply)},
          {"POST", "/api/glue/ways", in_folder(ways_reply)},
          {"GET", "/api/catalogue", in_folder(catalogue_reply)},
          {"GET", "/api/design", in_folder(design_reply)},
          {"POST", "/api/design/piece", in_folder(save_piece_reply)},
          {"POST", "/api/design/piece/remove", in_folder(remove_piece_reply)},
          {"POST", "/api/design/copy", in_folder(copy_design_reply)},
          {"GET", "/api/design/blocks", in_folder(as_blocks_reply)},
          {"POST", "/api/design/new", in_folder(new_design_reply)},
          {"POST", "/api/check", check_reply},
          {"GET", "/api/blocks", in_folder(blocks_reply)},
          {"GET", "/api/steps", steps_reply}};
}

}  // namespace stickwright
