// Meshes of a tractor's parts, made from their measures. Knows no GL, no pose, no scene. Shapes and proportions are our
// own: no maker's machine is drawn. Ambient light is baked in.
#pragma once
#include "render/namespaces.h"
#include "render/screen/kit/theme.h"
#include "render/screen/scene3d/mesh.h"
#include "render/screen/scene3d/shapes.h"

namespace sidehill::screen {

inline float f(double v) { return static_cast<float>(v); }  // measures are double, meshes are not

// Never empty for shapes a Drawing makes; measures out of all proportion are clamped so that the mesh stays finite.
// SidewallShape and CabGlassShape are open sheets; everything else is closed and faces outwards.
Mesh make_mesh(const Shape& shape, Detail detail = Detail::full);

// The parts of make_mesh, one file each.
Mesh wheel_mesh(const WheelShape& shape, Detail detail);
Mesh sidewall_mesh(const SidewallShape& shape, Detail detail);
Mesh liquid_mesh(const LiquidShape& shape, Detail detail);
Mesh wheel_weight_mesh(const WheelWeightShape& shape, Detail detail);
Mesh body_mesh(const BodyShape& shape, Detail detail);
void add_frame(MeshBuilder& mesh, const BodyShape& shape);  // cab posts and roof, or two-post frame
Mesh cab_glass_mesh(const CabGlassShape& shape, Detail detail);
Mesh driver_mesh(const DriverShape& shape, Detail detail);
Mesh front_axle_mesh(const FrontAxleShape& shape, Detail detail);
Mesh front_guard_mesh(const FrontGuardShape& shape, Detail detail);
Mesh loader_mast_mesh(const LoaderMastShape& shape, Detail detail);
Mesh loader_boom_mesh(const LoaderBoomShape& shape, Detail detail);
Mesh ram_mesh(const RamShape& shape, Detail detail);
Mesh bucket_mesh(const BucketShape& shape, Detail detail);
Mesh heap_mesh(const HeapShape& shape, Detail detail);
Mesh mound_mesh(const MoundShape& shape, Detail detail);
Mesh tool_mesh(const ToolShape& shape, Detail detail);
Mesh bale_mesh(const BaleShape& shape, Detail detail);
Mesh front_plates_mesh(const FrontPlatesShape& shape, Detail detail);
Mesh rear_block_mesh(const RearBlockShape& shape, Detail detail);
Mesh mass_mesh(const MassShape& shape, Detail detail);
Mesh implement_mesh(const ImplementShape& shape, Detail detail);
Mesh trailer_mesh(const TrailerShape& shape, Detail detail);
Mesh tank_mesh(const TankShape& shape, Detail detail);
Mesh bar_mesh(const BarShape& shape, Detail detail);
Mesh stake_mesh(const StakeShape& shape, Detail detail);

// Where the boom's ram is pinned, as places in the frames of mast (relative to the boom pivot, V axes) and boom.
glm::dvec2 ram_on_mast(const LoaderMastShape& shape);  // x, z
glm::dvec2 ram_on_boom(const LoaderBoomShape& shape);  // x, z

namespace paint {
constexpr Paint of(Colour c, int gloss) { return {c.r, c.g, c.b, static_cast<std::uint8_t>(gloss)}; }
constexpr Paint kBody = of(theme::kPaint, 105);
constexpr Paint kTrim = {86, 101, 112, 90};     // slate
constexpr Paint kDark = {56, 61, 67, 60};       // castings, frames
constexpr Paint kGuard = {68, 77, 85, 60};      // front mudguards
constexpr Paint kMid = {104, 109, 113, 70};     // axles, arms
constexpr Paint kBlack = {34, 36, 39, 50};      // grille, seat
constexpr Paint kRubber = {47, 48, 50, 26};     // tyre carcass
constexpr Paint kLug = {39, 40, 42, 22};        //
constexpr Paint kRim = {196, 194, 186, 110};    //
constexpr Paint kSteel = {170, 174, 176, 150};  // rods, bolts
constexpr Paint kGlassLamp = {244, 242, 230, 220};
constexpr Paint kRope = {196, 178, 138, 10};
constexpr Paint kStraw = {198, 172, 104, 10};
constexpr Paint kTwine = {168, 140, 78, 10};
constexpr Paint kWood = {139, 108, 74, 20};
constexpr Paint kIron = of(theme::kIron, 55);
}  // namespace paint

}  // namespace sidehill::screen
