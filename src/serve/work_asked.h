// work_asked.h - what a call says of the batch that it is about.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "serve/call.h"

namespace stickwright {

// That the body has no key but these.   errors   unknown_key
std::optional<Problem> only_keys(const Call& call, const std::vector<std::string_view>& keys);

// Of a body: a text that has to be there.   errors   bad_request (says what was expected)
Result<std::string> text_in_body(const Call& call, const std::string& key);

// Of a body: a whole number from 0 on.   errors   bad_request
Result<std::size_t> index_in_body(const Call& call, const std::string& key);

Reply job_reply(const std::string& id);  // {"job"}

}  // namespace stickwright
