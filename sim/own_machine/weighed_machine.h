// A weighing put into the machine of a scene, weighed as that scene has it. Knows no file, no screen.
#pragma once
#include "sim/own_machine/weighing_file.h"
#include "sim/scene/scene.h"

namespace sidehill {

// What the scene knows of the machine on the scales: wheelbase, tracks, wheel centres as they stand under its own
// weight on level ground, liquid in its tyres and where that lies. To be measured again where it can be.
// Throws InputError for an impossible machine.
Weighing weighing_before(const Scene& scene);

// The scene with the chassis so heavy, and its weight in such a place, that the whole machine as the scene has it -
// driver, tank, liquid, weights, loader and its load - weighs what the sheet says, with its centre of gravity there.
// What is bolted on keeps its mass and place. How far off that is becomes the tolerance of the chassis. The sheet's
// place to the side is taken where it has one. Throws InputError: nothing is left for the chassis (what the scene says
// was on the machine is more than it weighed), a hinged machine, a trailer on the hitch.
Scene with_weighing(Scene scene, const WeighingSheet& sheet);

}  // namespace sidehill
