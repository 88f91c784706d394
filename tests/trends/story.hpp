#pragma once
#include "trends/model/plate_form.hpp"
#include "trends/model/plate_study.hpp"

#include <cmath>
#include <functional>

namespace platewright::test {

/// An invented back whose wood, map and modes are all known: the model's own.
struct Story {
    using Thickness = std::function<double(plate::Point)>;
    ledger::PlateHistory history;
    plate::PlateWood wood;

    static double thickness_mm(plate::Point p, double taken) {
        const double x = p.x_mm / 103.5, y = p.y_mm / 177.5 - 1.0;
        return 3.0 - 0.3 * taken + (1.6 - taken) * std::exp(-2.0 * y * y - 2.5 * x * x);
    }

    explicit Story(std::initializer_list<double> passes = {0.0, 0.25, 0.5}) {
        history.plate.part = modes::Part::back;
        history.plate.label = "Story back";
        history.form = trends::usual_form(ledger::InstrumentRecord{});
        history.form->species = "red_maple";
        wood.left = plate::find_species("red_maple")->wood;
        wood.left.e_l_gpa *= 1.08;
        wood.left.g_lr_gpa *= 0.94;
        wood.left.density_kg_m3 = 620.0;
        wood.right = wood.left;
        history.plate.density_kg_m3 = 620.0;
        for (const double taken : passes)
            add([taken](plate::Point p) { return thickness_mm(p, taken); });
    }

    /// The history with the arch's heights read everywhere: what is left open is the wood.
    ledger::PlateHistory with_heights() const {
        ledger::PlateHistory read = history;
        const auto outline = *trends::outline_of(*read.form);
        const plate::Arching arching(outline, read.form->arching);
        for (const plate::Point p : plate::grid_inside(outline, 36.0))
            read.form->heights.push_back({p, arching.height_mm(p)});
        return read;
    }

    /// A session with the map, mass and modes of a plate of this thickness.
    void add(const Thickness& thickness) {
        const auto form =
            trends::plate_form(*history.form, modes::Part::back, modes::Stage::graduating);
        const plate::PlateModel model(*form, plate::PlateModel::k_fineness,
                                      plate::air_density_kg_m3(20.0, 50.0));
        ledger::SessionHistory one;
        one.session.id = static_cast<ledger::Id>(history.sessions.size()) + 1;
        one.session.begun = {1'700'000'000'000 + one.session.id * 86'400'000};
        for (const plate::Point p : plate::grid_inside(form->outline, 24.0))
            one.thickness.readings.push_back({p, thickness(p), ""});
        const auto exact = model.thickness_at(thickness);
        one.session.mass_g = model.mass_g(exact, wood);
        const auto solved = model.solve(exact, wood, 10);
        const auto names = plate::ShapeJudge(model).names(solved.shapes);
        for (const int number : {1, 2, 5}) {
            ledger::ModeRecord mode;
            mode.mode.frequency_hz = solved.frequency_hz[plate::mode_index(names, number)];
            mode.mode.frequency_sd_hz = 0.2;
            mode.mode.spread_hz = 0.2;
            mode.mode.q = 60.0; // as pairing weighs it
            mode.mode.taps = 5;
            mode.name = modes::ModeName{number, 1.0, false};
            one.modes.push_back(mode);
        }
        history.sessions.push_back(std::move(one));
    }
};

inline const Story& story() {
    static const Story told;
    return told;
}

} // namespace platewright::test
