// check_job.h - counting the assemblies of a design and taking them apart, as long work. Private to this room.
#pragma once
#include "serve/call.h"

namespace stickwright {

// Starts the job; its result is what `check --json` prints, and "complete".
Reply check_reply(Workbench& bench, const Call& call);

}  // namespace stickwright
