// The picture of a scene for a page. Where there is no screen part, or no graphics, the page stands without it.
#pragma once
#include "render/namespaces.h"
#include "render/page/report.h"
#include "render/text/words/units.h"
#include "sim/scene/scene.h"

namespace sidehill {

// Drawn as the window draws it, without words on it. `verb` is what a message on standard error begins with. Throws
// InputError for an impossible machine.
page::ReportPicture page_picture(const Scene& scene, text::Units units, const char* verb);

}  // namespace sidehill
