#include "bench/plate_work.hpp"

#include <fmt/format.h>

namespace platewright::bench {

std::string work_key(const ledger::PlateHistory& history, std::size_t session) {
    std::string key = fmt::format("{}/{}", history.plate.id, session);
    key += fmt::format("/{}", history.plate.density_kg_m3.value_or(0.0));
    if (const auto& f = history.form)
        key += fmt::format("/{} {} {} {}/{} {} {} {}/{} {}/{} {} {}/{} {}", f->size.length_mm,
                           f->size.upper_mm, f->size.waist_mm, f->size.lower_mm, f->arching.arch_mm,
                           f->arching.edge_mm, f->arching.long_fullness, f->arching.cross_fullness,
                           f->rim.size(), f->heights.size(), f->species, f->right_density,
                           f->right_stiffness, f->f_holes ? f->f_holes->upper.y_mm : 0.0,
                           f->bar ? f->bar->height_mm * f->bar->width_mm : 0.0);
    for (std::size_t i = 0; i <= session && i < history.sessions.size(); ++i) {
        const ledger::SessionHistory& one = history.sessions[i];
        key += fmt::format("/{} {} {} {}", one.thickness.id, static_cast<int>(one.session.stage),
                           one.session.mass_g.value_or(0.0), one.flex.size());
        for (const ledger::ModeRecord& mode : one.modes)
            if (mode.name)
                key += fmt::format(" {}:{:.3f}", mode.name->number, mode.mode.frequency_hz);
        for (const ledger::FlexRecord& flex : one.flex)
            key += fmt::format(" f{}", flex.id);
    }
    return key;
}

} // namespace platewright::bench
