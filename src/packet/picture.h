// picture.h - a drawing as a file of its own: its title and a line of words above it.
#pragma once
#include <string>

#include "packet/flow.h"
#include "quantity/result.h"

namespace stickwright {

struct PictureCaption {
  std::string title, subtitle;
  std::string date;  // ISO
};

// As high as it needs to be.   returns  the file's bytes   errors  cannot_write
Result<std::string> picture_file(const PictureCaption& caption, double width_mm, const SheetPart& part,
                                 Drawing drawing);

}  // namespace stickwright
