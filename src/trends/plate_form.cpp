#include "trends/plate_form.hpp"

#include "plate/wood.hpp"

#include <fmt/format.h>

namespace platewright::trends {

ledger::FormRecord usual_form(modes::InstrumentKind kind) {
    ledger::FormRecord form;
    form.size = plate::usual_size(kind);
    if (kind == modes::InstrumentKind::cello)
        form.arching = {.arch_mm = 25.0, .edge_mm = 5.0}; // common practice, no source
    return form;
}

base::Result<plate::Outline> outline_of(const ledger::FormRecord& form) {
    return form.rim.empty() ? plate::make_outline(form.size) : plate::outline_from_points(form.rim);
}

base::Result<plate::PlateForm> plate_form(const ledger::FormRecord& form, modes::Part part,
                                          modes::Stage stage) {
    auto outline = outline_of(form);
    if (!outline)
        return outline.fault();
    plate::PlateForm shape{*std::move(outline), form.arching, form.heights, {}, {}};
    if (part == modes::Part::top && stage >= modes::Stage::f_holes_cut)
        shape.f_holes = form.f_holes.value_or(plate::usual_f_hole(shape.outline.size));
    if (part == modes::Part::top && stage >= modes::Stage::bar_fitted)
        shape.bar = form.bar.value_or(plate::usual_bar(shape.outline.size));
    return shape;
}

StartingWood starting_wood(const ledger::FormRecord& form, const ledger::PlateRecord& plate,
                           const plate::MeasuredWood& billet) {
    const std::string_view usual = plate.part == modes::Part::top ? "norway_spruce" : "red_maple";
    auto species = plate::find_species(form.species.empty() ? usual : form.species);
    if (!species)
        species = plate::find_species(usual);
    const auto prior = plate::wood_prior(species->wood, billet);
    StartingWood start{{prior.wood, prior.wood},
                       prior.priors,
                       fmt::format("{}: {}", species->name, species->source),
                       plate.density_kg_m3 || billet.density_kg_m3};
    if (!billet.empty())
        start.source = billet.source + "; what was not measured: " + start.source;
    if (plate.density_kg_m3 && !billet.density_kg_m3) {
        start.wood.left.density_kg_m3 = *plate.density_kg_m3;
        start.wood.right.density_kg_m3 = *plate.density_kg_m3;
    }
    return start;
}

} // namespace platewright::trends
