// design_answer.h - a design file as the page edits it, and the blocks to build from. Private to this room.
#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "design/design.h"
#include "serve/call.h"
#include "serve/folder.h"

namespace stickwright {

// Replies: docs/api.yaml, DesignFile and Catalogue.
nlohmann::ordered_json design_json(const std::string& file, const std::string& version, const Design& design);

// The text of a file in the folder.   errors   of Folder::file; no_file (not readable)
Result<std::string> text_in(const Folder& folder, const std::string& name);

Reply catalogue_reply(const Folder& folder, const Call& call);
Reply design_reply(const Folder& folder, const Call& call);
Reply as_blocks_reply(const Folder& folder, const Call& call);
Reply blocks_reply(const Folder& folder, const Call& call);
Reply steps_reply(Workbench& bench, const Call& call);

}  // namespace stickwright
