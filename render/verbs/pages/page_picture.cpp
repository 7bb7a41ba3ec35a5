#include "render/verbs/pages/page_picture.h"

#include <fmt/format.h>

#include <stdexcept>
#include <string>
#include <utility>

#include "sim/base/errors.h"
#ifdef SIDEHILL_SCREEN
#include "render/screen/output/picture.h"
#endif

namespace sidehill {

page::ReportPicture page_picture([[maybe_unused]] const Scene& scene, [[maybe_unused]] text::Units units,
                                 [[maybe_unused]] const char* verb) {
  page::ReportPicture out;
#ifdef SIDEHILL_SCREEN
  screen::PictureOptions options;
  options.width = 1000;
  options.height = 620;
  options.readouts = false;  // the page says them
  options.overlays.labels = false;
  options.overlays.units = units;
  try {
    std::string drawn;
    screen::Pixels pixels = picture(scene, options, &drawn);
    out = {pixels.width, pixels.height, std::move(pixels.rgba), std::move(drawn)};
  } catch (const InputError&) {
    throw;
  } catch (const std::runtime_error& error) {  // no graphics here: the page stands without its picture
    fmt::print(stderr, "{}: without a picture: {}\n", verb, error.what());
  }
#endif
  return out;
}

}  // namespace sidehill
