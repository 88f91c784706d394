#include "support/catch.hpp"
#include "trends/model/plan_zones.hpp"
#include "trends/model/plate_form.hpp"
#include "trends/model/plate_study.hpp"
#include "trends/review/map_review.hpp"
#include "trends/review/pass_review.hpp"
#include "trends/story.hpp"
#include "wording/language.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace platewright;
using namespace platewright::trends;
using platewright::test::Story;
using platewright::test::story;

TEST_CASE("a map is described, its mass is the plate's, and what came off since is found") {
    const auto review = review_map(story().history, 2);
    REQUIRE(review);
    CHECK(review->predicted_g == Approx(*review->weighed_g).epsilon(0.01));
    CHECK(*review->implied_density_kg_m3 == Approx(620.0).epsilon(0.01));
    CHECK(review->density_is_own);
    REQUIRE(review->change);
    CHECK(review->change->session == 1);
    // taken between the maps: 0.075 mm everywhere and 0.25 mm more in the middle
    CHECK(review->change->deepest_mm == Approx(0.325).margin(0.03));
    CHECK(std::abs(review->change->deepest.x_mm) < 15.0);
    CHECK(std::abs(review->change->deepest.y_mm - 177.5) < 25.0);
    CHECK(*review->change->map_g == Approx(*review->change->scales_g).margin(0.3));
    CHECK_FALSE(review_map(story().history, 0)->change);
}

TEST_CASE("a plate without shape or readings is told what it lacks") {
    ledger::PlateHistory history = story().history;
    history.form.reset();
    CHECK(review_map(history, 2).fault().what.find("shape is not known") != std::string::npos);
    CHECK(study_plate(history, 2).fault().what.find("shape is not known") != std::string::npos);
    for (const auto language :
         {wording::Language::english, wording::Language::german, wording::Language::italian}) {
        const wording::Speaking speaking(language); // where it is typed, as the window calls it
        for (const std::string& said :
             {review_map(history, 2).fault().what, study_plate(history, 2).fault().what}) {
            INFO(said);
            CHECK(said.find(std::string(wording::say("Plate")) + ", " +
                            std::string(wording::say("Shape"))) != std::string::npos);
        }
    }
    history.form = story().history.form;
    for (auto& session : history.sessions)
        session.thickness.readings.clear();
    CHECK(study_plate(history, 2).fault().what.find("no session") == std::string::npos);
    CHECK(study_plate(history, 2).fault().what.find("No session") != std::string::npos);
}

TEST_CASE("the study fits the plate's wood over its sessions and reproduces its modes") {
    double told = 0.0;
    const auto study = study_plate(story().history, 2, [&](double share) {
        CHECK(share > told);
        told = share;
        return true;
    });
    REQUIRE(study);
    CHECK(study->fitted == std::vector<std::size_t>{0, 1, 2});
    CHECK(study->fit.status == plate::FitStatus::ok);
    CHECK(study->fit.is_plausible);
    for (const auto& tapped : study->tapped) {
        const int index = plate::mode_index(study->state.names, tapped.number);
        // within the repeatability the fit is told to expect, half a percent
        CHECK(study->state.modes.frequency_hz[index] == Approx(tapped.frequency_hz).epsilon(0.005));
    }
    CHECK(study->stroke_hz.rows() == static_cast<Eigen::Index>(study->model->nodes()));
    CHECK(study->stroke_hz.col(plate::mode_index(study->state.names, 5)).minCoeff() < 0.0);
    CHECK(told > 0.5);
    CHECK_FALSE(study_plate(story().history, 2, [](double) { return false; }));
}

TEST_CASE("what was measured on the billet takes the handbook's place, and is held as firmly") {
    const plate::Wood truth = story().wood.left;
    const plate::MeasuredWood billet{.e_l_gpa = plate::MeasuredConstant{truth.e_l_gpa * 1.01, 0.02},
                                     .e_r_gpa = {},
                                     .g_lr_gpa = {},
                                     .density_kg_m3 = {},
                                     .source = "billet 12"};
    // with the arch known: where it is open, it stands between one constant and the other
    const ledger::PlateHistory history = story().with_heights();
    const auto plain = study_plate(history, 2);
    const auto informed = study_plate(history, 2, {}, billet);
    REQUIRE(plain);
    REQUIRE(informed);
    CHECK(informed->fit.wood.left.e_l_gpa == Approx(truth.e_l_gpa).epsilon(0.04));
    // the two can't be told apart by taps; E_R stays open by how far the rings lean
    CHECK(informed->fit.sd(plate::FitUnknown::e_l) < 0.7 * plain->fit.sd(plate::FitUnknown::e_l));
    CHECK(informed->fit.sd(plate::FitUnknown::e_r) < 0.8 * plain->fit.sd(plate::FitUnknown::e_r));
    CHECK(informed->wood_source.starts_with("billet 12"));
    CHECK_THROWS_AS(plate::wood_prior(truth, {.e_l_gpa = plate::MeasuredConstant{10.0, 0.0}}),
                    std::invalid_argument);
}

TEST_CASE("how the wood lies is taken from the maker, of one half for both, and held firmly") {
    constexpr double k_deg = std::numbers::pi / 180.0;
    ledger::FormRecord form = *story().history.form;
    const auto& plate = story().history.plate;
    const auto untold = starting_wood(form, plate);
    CHECK(untold.wood.left.lie == plate::GrainLie{});
    CHECK(untold.wood.is_book_matched == form.two_piece);
    form.two_piece = true;
    form.rings_right_deg = 12.0;
    form.run_out_deg = -3.0;
    const auto told = starting_wood(form, plate);
    CHECK(told.wood.right.lie.ring_rad == Approx(12.0 * k_deg));
    CHECK(told.wood.left.lie.ring_rad == Approx(12.0 * k_deg)); // opened like a book: to one side
    CHECK_FALSE(told.wood.has_mirrored_rings);
    CHECK(told.wood.right.lie.run_out_rad == Approx(-3.0 * k_deg));
    CHECK(told.wood.left.lie.run_out_rad == Approx(3.0 * k_deg));
    CHECK(told.priors.ring_rad < 0.5 * untold.priors.ring_rad);
    CHECK(told.priors.run_out_rad < untold.priors.run_out_rad);
    form.rings_left_deg = -12.0; // split wood sawn through its middle
    CHECK(starting_wood(form, plate).wood.has_mirrored_rings);
    form.two_piece = false;
    CHECK(starting_wood(form, plate).wood.left.lie.run_out_rad == Approx(-3.0 * k_deg));
    form.rings_left_deg = 95.0;
    CHECK(fault_in(form)->what.find("90") != std::string::npos);
}

TEST_CASE(
    "wood that is soft across is said to be perhaps leaning, until the end grain is looked at") {
    Story top({}); // of spruce, fifteen degrees off: a back of maple hardly feels it
    top.history.plate.part = modes::Part::top;
    top.history.plate.density_kg_m3 = 420.0;
    top.history.form->species = "norway_spruce";
    top.wood.left = plate::find_species("norway_spruce")->wood;
    top.wood.right = top.wood.left;
    const auto upright = [&] {
        Story straight = top;
        straight.add([](plate::Point) { return 2.8; });
        return straight.history;
    }();
    top.wood.left.lie.ring_rad = top.wood.right.lie.ring_rad = 0.26;
    top.add([](plate::Point) { return 2.8; });
    ledger::PlateHistory history = top.history;
    const auto says = [](const PlateStudy& study) {
        return std::ranges::any_of(study.remarks, [](const std::string& remark) {
            return remark.find("end grain") != std::string::npos;
        });
    };
    const auto untold = study_plate(history, 0);
    REQUIRE(untold);
    CHECK(says(*untold));
    CHECK_FALSE(says(*study_plate(upright, 0)));
    history.form->rings_left_deg = history.form->rings_right_deg = 15.0;
    const auto told = study_plate(history, 0);
    REQUIRE(told);
    CHECK_FALSE(says(*told));
    CHECK(told->fit.is_plausible);
    CHECK(told->fit.sd(plate::FitUnknown::ring) < 0.6 * untold->fit.sd(plate::FitUnknown::ring));
}

TEST_CASE("the model's profiles say where modes answer: the ring in the middle, the twist at the "
          "flanks") {
    const auto study = study_plate(story().history, 2);
    REQUIRE(study);
    const auto profiles = spot_profiles(*study);
    REQUIRE(profiles.size() == 3);
    const auto level = [&](std::size_t k, taps::Spot spot) {
        for (const auto& l : profiles[k].levels)
            if (l.spot == spot)
                return l.level_db;
        return 1.0;
    };
    CHECK(profiles[0].name == 1);
    CHECK(level(0, taps::Spot::centre) < -20.0); // on the line that stands still
    CHECK(std::max(level(0, taps::Spot::lower_bout_left), level(0, taps::Spot::lower_bout_right)) >
          -6.0);
    CHECK(profiles[2].name == 5);
    CHECK(level(2, taps::Spot::centre) > -8.0);
    CHECK(level(2, taps::Spot::centre) > level(2, taps::Spot::waist_left));
}

TEST_CASE("the zones of a removal cover the plate: their grams are what its mass falls by") {
    const auto form =
        plate_form(*story().history.form, modes::Part::back, modes::Stage::graduating);
    const plate::PlateModel model(*form);
    const auto thickness =
        model.thickness_at([](plate::Point p) { return Story::thickness_mm(p, 0.0); });
    // a hollow in the lower bout's left, so that sides and ends can't be taken for one another
    const auto hollow = model.thickness_at([](plate::Point p) {
        return 0.3 * std::exp(-(std::pow(p.x_mm + 70.0, 2) + std::pow(p.y_mm - 75.0, 2)) / 400.0);
    });
    const auto zones = plan_zones(model, hollow, story().wood);
    REQUIRE(zones.size() == 9);
    double grams = 0.0;
    for (const auto& zone : zones)
        grams += zone.wood_g;
    const double fall =
        model.mass_g(thickness, story().wood) - model.mass_g(thickness - hollow, story().wood);
    CHECK(grams == Approx(fall).epsilon(0.02));
    CHECK(zones[6].name == "lower bout, left");
    CHECK(zones[6].wood_g > 0.8 * grams);
    CHECK(zones[6].deepest_mm == Approx(hollow.maxCoeff()));
    CHECK(zones[0].name == "upper bout, left");
    CHECK(zones[2].wood_g < 0.01 * grams);
    // Beside the mark 0.44 on the drawing stood "deepest 0.47": the border with a deeper zone.
    const auto across = model.thickness_at([](plate::Point p) {
        const auto hollow_at = [&](double x, double depth, double width_mm2) {
            return depth *
                   std::exp(-(std::pow(p.x_mm - x, 2) + std::pow(p.y_mm - 75.0, 2)) / width_mm2);
        };
        return hollow_at(0.0, 0.55, 2500.0) + hollow_at(-78.0, 0.2, 400.0);
    });
    const auto beside = plan_zones(model, across, story().wood);
    const auto summit = is_summit(model, across);
    std::vector<double> depths;
    for (std::size_t i = 0; i < summit.size(); ++i)
        if (summit[i])
            depths.push_back(across[static_cast<Eigen::Index>(i)]);
    CHECK(std::ranges::count(depths, beside[6].deepest_mm) == 1);
    CHECK(beside[6].deepest_mm < 0.28); // 0.33 and more at the border
    CHECK(beside[7].deepest_mm == Approx(0.55).epsilon(0.05));
    auto alike = zones; // both sides of the lower bout the same, of the upper not
    alike[8].mean_mm = alike[6].mean_mm;
    alike[8].deepest_mm = alike[6].deepest_mm;
    alike[0].deepest_mm += 0.1;
    const auto told = told_together(alike);
    REQUIRE(told.size() == 7);
    CHECK(told[0].name == "upper bout, left");
    CHECK(told[3].name == "waist, both sides");
    CHECK(told[5].name == "lower bout, both sides");
    CHECK(told[5].wood_g == Approx(alike[6].wood_g + alike[8].wood_g));
}

TEST_CASE("sessions with other fittings are left out of a top's fit, and that is said") {
    ledger::PlateHistory history = story().history;
    history.plate.part = modes::Part::top;
    history.sessions[2].session.stage = modes::Stage::bar_fitted;
    const auto study = study_plate(history, 2);
    REQUIRE(study);
    CHECK(study->fitted == std::vector<std::size_t>{2});
    CHECK(study->model->form().bar.has_value());
    REQUIRE(study->remarks.size() >= 2);
    CHECK(study->remarks[0].find("left out") != std::string::npos);
    // and the scales, which weigh the bar, are not set against what the maps say came off
    const auto review = review_map(history, 2);
    REQUIRE(review);
    REQUIRE(review->change);
    CHECK(review->change->deepest_mm == Approx(0.325).margin(0.03));
    CHECK_FALSE(review->change->scales_g);
}

TEST_CASE("a plan is kept as it was made and held against the next session") {
    ledger::PlateHistory history = story().history;
    const auto study = study_plate(history, 1);
    REQUIRE(study);
    const auto targets = with_soft_holds(
        {{5, study->tapped.back().frequency_hz, study->tapped.back().frequency_hz - 6.0, 1.0}},
        *study);
    REQUIRE(targets.size() == 3);
    CHECK(targets[1].firmness < 0.1);
    const plate::PlanLimits limits;
    const auto plan =
        plate::make_plan(*study->model, study->fit, study->thickness_mm, targets, limits);
    ledger::PlanRecord record = record_of(plan, *study, limits.field);
    CHECK(record.modes.size() == 3);
    REQUIRE_FALSE(record.strokes.empty());
    // the strokes kept make the same map again
    const plate::RemovalBasis basis(*study->model, limits.field);
    Eigen::VectorXd depths =
        Eigen::VectorXd::Zero(static_cast<Eigen::Index>(basis.strokes().size()));
    for (const auto& stroke : record.strokes)
        for (std::size_t i = 0; i < basis.strokes().size(); ++i)
            if (std::hypot(basis.strokes()[i].middle.x_mm - stroke.middle.x_mm,
                           basis.strokes()[i].middle.y_mm - stroke.middle.y_mm) < 1e-6)
                depths[static_cast<Eigen::Index>(i)] = stroke.depth_mm;
    CHECK((basis.at_nodes() * depths - plan.removal_mm).cwiseAbs().maxCoeff() < 0.002);

    CHECK_FALSE(hindsight_of(history, 2));
    // as if the pass had been done to the letter
    history.sessions[1].plan = record;
    for (auto& mode : history.sessions[2].modes)
        for (const auto& planned : record.modes)
            if (mode.name->number == planned.number)
                mode.mode.frequency_hz = planned.pass_hz;
    const auto after = hindsight_of(history, 2);
    REQUIRE(after);
    CHECK(after->planned == 1);
    CHECK(after->modes.size() == 3);
    for (const auto& mode : after->modes)
        CHECK(std::abs(mode.deviations) < 0.05);
    // a plan for a top foresees no bar
    history.plate.part = modes::Part::top;
    history.sessions[2].session.stage = modes::Stage::bar_fitted;
    CHECK_FALSE(hindsight_of(history, 2));
    CHECK_FALSE(hindsight_of(history, 1)); // nothing has happened yet
}

TEST_CASE("a small instrument's plate has its own size, all in proportion") {
    const ledger::FormRecord full = usual_form({.kind = modes::InstrumentKind::violin});
    const ledger::FormRecord half =
        usual_form({.kind = modes::InstrumentKind::violin, .body_length_mm = 0.75 * 355.0});
    CHECK(full.size.length_mm == Approx(355.0).epsilon(0.01));
    CHECK(half.size.length_mm == Approx(0.75 * 355.0));
    for (const auto& [of_half, of_full] : {std::pair{half.size.upper_mm, full.size.upper_mm},
                                           std::pair{half.size.waist_mm, full.size.waist_mm},
                                           std::pair{half.size.lower_mm, full.size.lower_mm},
                                           std::pair{half.arching.arch_mm, full.arching.arch_mm}})
        CHECK(of_half / of_full == Approx(half.size.length_mm / full.size.length_mm));
    CHECK(outline_of(half));
}
