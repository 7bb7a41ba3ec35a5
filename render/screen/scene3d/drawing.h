// What to draw, in numbers: parts and where they are, liquids and their surfaces, arrows, outlines, labels. Knows sim's
// values; knows no GL, no window, no pixel, so that it can be tested. Double precision; the renderer narrows.
// Frame of everything here: W, the world (z up; slopes tilt the ground, never gravity) [m], [rad].
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/scene3d/shapes.h"
#include "render/text/words/units.h"
#include "sim/model/model.h"
#include "sim/motion/state.h"
#include "terrain/terrain.h"

namespace sidehill::screen {

// What a person wants to see on top of machine and ground.
struct Overlays {
  bool see_through_tyres = true;  // outer sidewalls as glass, liquid visible
  bool wheel_loads = true;        // an arrow per wheel, length in proportion to load
  bool centre_of_gravity = true;  // quartered disc and plumb line
  bool support = true;            // support outline on the ground
  bool slope_wedge = true;        // angle of the ground beside the machine
  bool ground_lines = true;       // 1 m grid and contour lines
  bool driver = true;             // figure on the seat, if the scene has the driver on
  bool labels = true;             //
  Units units = Units::si;        // of what is said
  std::optional<double> margin;   // of a moment of a run, said at the plumb line's foot if given [rad]
  std::string stands;             // at rest, said there instead; empty = nothing
  bool few_labels = false;   // of the words only slope, height of the centre of gravity, what is lifted, what is left
  std::string stands_short;  // the same in two or three words, for the picture; empty = `stands` itself
};

// What an element means; the palette gives it a colour, and shape or text says the same without colour.
enum class Ink {
  load,
  nearest_to_lifting,  // of the loads, the one of the wheel that is nearest to lifting
  lifted,
  support,
  nearest_edge,  // of the support, to the plumb line's foot
  to_edge,       // the way there
  support_contacts,
  plumb,
  plumb_outside,
  slope,
  level,
  feature,
  ghost,
  ghost_fill,
  ghost_hatch,
};

// How a tyre is flattened where it stands.
struct Squash {
  Vec3 centre{0.0};       // of the wheel
  Vec3 axle{0, 1, 0};     // unit
  Vec3 contact{0.0};      // a point of the ground under it
  Vec3 normal{0, 0, 1};   // unit, of that ground
  double deflection = 0;  // how far the free tyre would reach below the ground; 0 in the air
};

struct Part {
  Shape shape;
  Pose X_WP;
  std::optional<Squash> squash;
};

struct LiquidPart {
  LiquidShape shape;
  Pose X_WP;  // not turning with the wheel
  Squash squash;
  Vec3 up{0, 0, 1};     // unit normal of the liquid's surface
  double level = 0;     // of the surface over the wheel centre, along `up`
  bool frozen = false;  // a lump that turns with the wheel: its surface need not be level
  Medium medium = Medium::water;
};

struct Arrow {  // stands on the ground and points along it
  Vec3 foot{0.0};
  Vec3 tip{0.0};
  Ink ink = Ink::load;
  bool cut = false;  // the load is more than its length says
};

struct Ring {  // marker around a wheel that carries nothing
  Vec3 centre{0.0};
  Vec3 axis{0, 1, 0};  // unit
  double radius = 1;
  double half_width = 0.3;  // of what hangs there: the tyre, or a pair of them
  Ink ink = Ink::lifted;
};

// The ground's angle; the picture shows it at one of the places (render/screen/scene3d/slope_wedge).
struct SlopeWedge {
  double slope = 0;  // [rad]
  std::vector<Vec3> apexes;
};

struct Outline {
  std::vector<Vec3> points;
  bool closed = true;
  bool dashed = false;
  bool filled = false;  // lightly, as a fan from the first point
  Ink ink = Ink::support;
};

struct GravityMark {
  Vec3 centre{0.0};    // centre of gravity of everything
  Vec3 foot{0.0};      // where the plumb line meets the ground
  bool inside = true;  // foot within the support outline
};

enum class LabelKind { wheel_load, lifted, centre_of_gravity, margin, edge, slope, feature };

struct Label {
  Vec3 anchor{0.0};
  std::string text;  // short, in people's units
  LabelKind kind = LabelKind::wheel_load;
  std::string tag{};    // "A", "B": which of two machines it speaks of; empty where there is one
  bool ghost = false;   // of the second machine: written in the second style
  std::string words{};  // the same in full, said when the mouse rests on it; may be empty
};

struct GroundPicture {
  double slope = 0;  // [rad]
  std::vector<Feature> features;
  glm::dvec2 focus_G{0.0};  // where detail is wanted
  bool lines = true;
};

struct Drawing {
  GroundPicture ground;
  std::vector<Part> parts;
  std::vector<LiquidPart> liquids;
  std::vector<Arrow> arrows;
  std::vector<Ring> rings;
  std::vector<Outline> outlines;
  std::optional<GravityMark> gravity;
  std::optional<SlopeWedge> wedge;
  std::vector<Label> labels;
  std::vector<Vec3> contacts;  // where tyres touch: soft dark spots
  // For cameras: these do not change with what the machine carries, with its loader or with how its tyres give.
  Vec3 stand{0.0};           // of the even slope, under the machine's middle
  std::vector<Vec3> held;    // outermost places of the machine standing square there, its loader low and high
  std::vector<Vec3> wanted;  // what the scene's own view holds as well: obstacles, ground ahead and behind
  SceneView view;            // the scene's own
  Vec3 focus{0.0};           // middle of the machine as it is, for light and shadow
  double heading = 0;        // direction the machine points to, seen from above, from +x anticlockwise [rad]
  double size = 4;           // radius of a sphere around the machine [m]
  std::vector<Vec3> extent;  // outermost places of the machine as it is
  bool ghost = false;        // a second machine, for comparing: see render/screen/scene3d/ghost
};

// A picture of one moment; sim/motion/rest_state makes a moment of a pose at rest. `scene` is the one `model`
// was built from: it gives looks the Model does not keep (bonnet, cab, section widths, media). Never throws; any finite
// State gives finite numbers.
Drawing draw(const Scene& scene, const Model& model, const State& state, const Overlays& overlays);

}  // namespace sidehill::screen
