// design_save.h - pieces that the page writes into design files. Private to this room.
#pragma once
#include "serve/call.h"
#include "serve/folder.h"

namespace stickwright {

// Each writes the file whole, or not at all, and answers with its new version. One at a time.
Reply save_piece_reply(const Folder& folder, const Call& call);
Reply remove_piece_reply(const Folder& folder, const Call& call);
// The whole file under another name, with the piece changed there; the file it is of stays.
Reply copy_design_reply(const Folder& folder, const Call& call);
Reply new_design_reply(const Folder& folder, const Call& call);

}  // namespace stickwright
