// The texts of the shaders, and how they become programs. Knows OpenGL, nothing of what is drawn.
// Light is added up linearly; colours come in as sRGB and are squared to get there, and the root is taken at the end:
// near enough to sRGB's curve and cheap where the graphics is software.
#pragma once
#include <string>

#include "render/namespaces.h"

namespace sidehill::shaders {

extern const char* const kCommon;       // light, sky, tone curve: put before every text that lights something
extern const char* const kHides;        // OPENS: what stands between the eye and a lifted wheel
extern const char* const kSolidVertex;  // parts: pose, tyre's flattening; QUICK: lit per corner; GHOST: only how light
extern const char* const kQuickFragment;  // for QUICK
extern const char* const kSolidFragment;
extern const char* const kDepthFragment;   // into the shadow map
extern const char* const kGlassFragment;   // sidewalls and panes
extern const char* const kLiquidFragment;  // cut at the liquid's surface
extern const char* const kGroundVertex;    // the ground's frame to the world, easing into level country
extern const char* const kGroundFragment;  // NEAR defined: with shadow, grain and grid
extern const char* const kMarkVertex;      // overlays, already in the world
extern const char* const kMarkFragment;
extern const char* const kGhostFragment;    // a second machine's parts, into a picture of their own: how light they are
extern const char* const kTracingVertex;    // that picture laid over the first: a triangle over everything
extern const char* const kTracingFragment;  // hatched where it is in front, outlined; dashed where it is behind
extern const char* const kSkyVertex;
extern const char* const kSkyFragment;

// A linked program of two texts without a version line. Throws std::runtime_error with the driver's words.
unsigned program(const std::string& vertex, const std::string& fragment);

}  // namespace sidehill::shaders
