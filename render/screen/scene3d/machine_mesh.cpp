#include "render/screen/scene3d/machine_mesh.h"

#include <type_traits>

namespace sidehill::screen {

Mesh make_mesh(const Shape& shape, Detail detail) {
  return std::visit(
      [detail](const auto& s) -> Mesh {
        using T = std::decay_t<decltype(s)>;
        if constexpr (std::is_same_v<T, WheelShape>)
          return wheel_mesh(s, detail);
        else if constexpr (std::is_same_v<T, SidewallShape>)
          return sidewall_mesh(s, detail);
        else if constexpr (std::is_same_v<T, LiquidShape>)
          return liquid_mesh(s, detail);
        else if constexpr (std::is_same_v<T, WheelWeightShape>)
          return wheel_weight_mesh(s, detail);
        else if constexpr (std::is_same_v<T, BodyShape>)
          return body_mesh(s, detail);
        else if constexpr (std::is_same_v<T, CabGlassShape>)
          return cab_glass_mesh(s, detail);
        else if constexpr (std::is_same_v<T, DriverShape>)
          return driver_mesh(s, detail);
        else if constexpr (std::is_same_v<T, FrontAxleShape>)
          return front_axle_mesh(s, detail);
        else if constexpr (std::is_same_v<T, FrontGuardShape>)
          return front_guard_mesh(s, detail);
        else if constexpr (std::is_same_v<T, LoaderMastShape>)
          return loader_mast_mesh(s, detail);
        else if constexpr (std::is_same_v<T, LoaderBoomShape>)
          return loader_boom_mesh(s, detail);
        else if constexpr (std::is_same_v<T, RamShape>)
          return ram_mesh(s, detail);
        else if constexpr (std::is_same_v<T, BucketShape>)
          return bucket_mesh(s, detail);
        else if constexpr (std::is_same_v<T, HeapShape>)
          return heap_mesh(s, detail);
        else if constexpr (std::is_same_v<T, ToolShape>)
          return tool_mesh(s, detail);
        else if constexpr (std::is_same_v<T, BaleShape>)
          return bale_mesh(s, detail);
        else if constexpr (std::is_same_v<T, FrontPlatesShape>)
          return front_plates_mesh(s, detail);
        else if constexpr (std::is_same_v<T, RearBlockShape>)
          return rear_block_mesh(s, detail);
        else if constexpr (std::is_same_v<T, MassShape>)
          return mass_mesh(s, detail);
        else if constexpr (std::is_same_v<T, ImplementShape>)
          return implement_mesh(s, detail);
        else if constexpr (std::is_same_v<T, TrailerShape>)
          return trailer_mesh(s, detail);
        else if constexpr (std::is_same_v<T, TankShape>)
          return tank_mesh(s, detail);
        else if constexpr (std::is_same_v<T, BarShape>)
          return bar_mesh(s, detail);
        else if constexpr (std::is_same_v<T, MoundShape>)
          return mound_mesh(s, detail);
        else
          return stake_mesh(s, detail);
      },
      shape);
}

}  // namespace sidehill::screen
