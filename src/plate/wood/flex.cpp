#include "plate/wood/flex.hpp"

#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::plate {
namespace {

using wording::figure;
using wording::say;

constexpr double k_gravity_m_s2 = 9.80665;
constexpr double k_most_bent_mm = 20.0;

// Twice the greatest area of a triangle of three supports, mm^2.
double spread_of(const std::vector<Point>& p) {
    double widest = 0.0;
    for (std::size_t a = 0; a < p.size(); ++a)
        for (std::size_t b = a + 1; b < p.size(); ++b)
            for (std::size_t c = b + 1; c < p.size(); ++c)
                widest =
                    std::max(widest, std::abs(2.0 * signed_area_mm2(std::array{p[a], p[b], p[c]})));
    return widest;
}

} // namespace

std::optional<base::Fault> fault_in(const FlexReading& r, const Outline& outline) {
    if (r.supports.size() < 3 || spread_of(r.supports) < 100.0)
        return base::Fault{say("The flex reading \"{}\" needs three supports or more that are not "
                               "in a line. Nothing was "
                               "stored.",
                               r.name)};
    for (const auto& p : r.supports)
        if (!outline.holds(p) && distance_mm(outline.rim, p) > 2.0)
            return base::Fault{say("The flex reading \"{}\" has a support off the plate at {}, {} "
                                   "mm. Nothing was stored.",
                                   r.name, figure(p.x_mm, 1), figure(p.y_mm, 1))};
    if (!outline.holds(r.load) && distance_mm(outline.rim, r.load) > 2.0)
        return base::Fault{
            say("The flex reading \"{}\" has its load off the plate. Nothing was stored.", r.name)};
    if (!(r.load_g > 0.0) || !std::isfinite(r.load_g))
        return base::Fault{say("The flex reading \"{}\": the load ({} g) must be more than "
                               "nothing. Nothing was stored.",
                               r.name, figure(r.load_g, 1))};
    if (!(r.deflection_mm > 0.0) || r.deflection_mm > k_most_bent_mm)
        return base::Fault{say("The flex reading \"{}\": a deflection of {} mm can't be; it is "
                               "taken in mm, downwards. "
                               "Nothing was stored.",
                               r.name, figure(r.deflection_mm, 2))};
    return std::nullopt;
}

FlexValue flex_value(const PlateModel& model, const Eigen::VectorXd& thickness_mm,
                     const ArchShift& arch, const PlateWood& wood, const FlexReading& reading) {
    const PlanMesh& mesh = model.shell().mesh();
    std::vector<MeshPlace> supports;
    for (const auto& p : reading.supports)
        supports.push_back(locate(mesh, p));
    const MeshPlace load = locate(mesh, reading.load);
    const double force_n = 1e-3 * reading.load_g * k_gravity_m_s2;
    const Eigen::MatrixXd u = model.shell().deflect(
        model.surface(thickness_mm, arch), model.shell_wood(wood), supports, load, force_n);
    FlexValue value;
    for (std::size_t a = 0; a < 3; ++a)
        value.deflection_mm +=
            1e3 * load.weight[static_cast<Eigen::Index>(a)] * u(6 * load.nodes[a] + 2, 0);
    const EnergySlopes slopes =
        energy_slopes(model, thickness_mm, arch, wood, u, Eigen::RowVectorXd::Zero(1));
    value.by_wood_mm = -1e3 / force_n * slopes.wood.col(0);
    value.by_arch_mm = -1e3 / force_n * slopes.arch.col(0);
    value.by_thickness_mm = -1e3 / force_n * slopes.thick_per_mm[0];
    return value;
}

} // namespace platewright::plate
