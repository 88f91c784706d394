#include "plate/fit/fit.hpp"
#include "support/catch.hpp"

using namespace platewright;
using namespace platewright::plate;

namespace {

Outline strip(double width_mm, double length_mm) {
    Outline o;
    o.rim = {{-0.5 * width_mm, 0},
             {0.5 * width_mm, 0},
             {0.5 * width_mm, length_mm},
             {-0.5 * width_mm, length_mm}};
    o.size = {length_mm, width_mm, width_mm, width_mm};
    return o;
}

} // namespace

TEST_CASE("a strip on two knife edges bends as the textbook's beam does") {
    // d = F L^3 / (48 E I), I = b h^3 / 12: simply supported beam, load in the middle (closed form)
    const PlateModel model({strip(20.0, 300.0), {4.0, 4.0, 2.6, 2.0}, {}, {}, {}}, 60.0);
    const Wood w{10, 10, 10, 5, 5, 5, 0.0, 0.0, 0.0, 500};
    const auto h = model.thickness_at([](Point) { return 2.0; });
    const FlexReading reading{
        "lengthwise", {{-9, 10}, {9, 10}, {-9, 290}, {9, 290}}, {0, 150}, 100.0, 1.0, 0.02};
    CHECK_FALSE(fault_in(reading, model.form().outline).has_value());
    const auto value = flex_value(model, h, ArchShift::Zero(), {w, w}, reading);
    const double span = 0.28, inertia = 0.02 * 8e-9 / 12.0;
    const double exact_mm = 1e3 * 0.1 * 9.80665 * span * span * span / (48.0 * 10e9 * inertia);
    CHECK(value.deflection_mm == Approx(exact_mm).epsilon(0.01));
    // twice as stiff all over bends half as far: the four slopes add up to minus the deflection
    CHECK(value.by_wood_mm.sum() == Approx(-value.deflection_mm).epsilon(0.001));
    CHECK(value.by_thickness_mm == Approx(-3.0 * value.deflection_mm / 2.0).epsilon(0.01));
}

TEST_CASE("flexes tell E_R from E_L where modes 1, 2 and 5 can't") {
    PlateForm form{*make_outline(usual_size(modes::InstrumentKind::violin)), {}, {}, {}, {}};
    const PlateModel model(form, 25.0);
    const Wood w = find_species("red_maple")->wood;
    const PlateWood usual{w, w}, truth = scaled(usual, {0.2, -0.25, 0.05, 0.0});
    FitSession session;
    session.thickness_mm = model.thickness_at([](Point) { return 3.2; });
    const auto solved = model.solve(session.thickness_mm, truth, 10);
    const auto names = ShapeJudge(model).names(solved.shapes);
    for (const int n : {1, 2, 5})
        session.modes.push_back({n, solved.frequency_hz[mode_index(names, n)], 0.1});
    const auto without = fit_wood(model, usual, std::span(&session, 1));
    for (FlexReading reading :
         {FlexReading{
              "crosswise", {{-95, 60}, {-95, 80}, {95, 60}, {95, 80}}, {0, 70}, 500.0, 1.0, 0.01},
          FlexReading{"lengthwise",
                      {{-10, 5}, {10, 5}, {-10, 350}, {10, 350}},
                      {0, 178},
                      500.0,
                      1.0,
                      0.01}}) {
        reading.deflection_mm =
            flex_value(model, session.thickness_mm, ArchShift::Zero(), truth, reading)
                .deflection_mm;
        CHECK_FALSE(fault_in(reading, form.outline).has_value());
        session.flexes.push_back(reading);
    }
    const auto with = fit_wood(model, usual, std::span(&session, 1));
    REQUIRE(with.status == FitStatus::ok);
    CHECK(with.sd(FitUnknown::e_r) < without.sd(FitUnknown::e_r));
    CHECK(std::abs(with.unknowns[1] + 0.25) < 2.0 * with.sd(FitUnknown::e_r));
}

TEST_CASE("flex readings that can't be are refused by name") {
    const auto outline = *make_outline(usual_size(modes::InstrumentKind::violin));
    const FlexReading good{"twist", {{-80, 60}, {80, 60}, {-60, 290}}, {60, 290}, 200.0, 0.8, 0.02};
    CHECK_FALSE(fault_in(good, outline).has_value());
    const auto says = [&](FlexReading bad, std::string_view part) {
        const auto fault = fault_in(bad, outline);
        REQUIRE(fault);
        CHECK(fault->what.find("\"twist\"") != std::string::npos);
        CHECK(fault->what.find(part) != std::string::npos);
    };
    auto bad = good;
    bad.supports = {{0, 50}, {0, 100}, {0, 300}};
    says(bad, "not in a line");
    bad = good;
    bad.load = {200, 10};
    says(bad, "off the plate");
    bad = good;
    bad.load_g = -5.0;
    says(bad, "load");
    bad = good;
    bad.deflection_mm = 55.0;
    says(bad, "can't be");
}
