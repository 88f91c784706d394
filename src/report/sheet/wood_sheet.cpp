#include "base/clock.hpp"
#include "base/interval.hpp"
#include "plate/wood/wood.hpp"
#include "report/sheet/sheet_parts.hpp"

#include <cmath>

namespace platewright::report {
namespace {

using trends::Figure;
using wording::figure;
using wording::say;
using wording::signed_figure;

std::string percent(double ratio) { return figure(100.0 * ratio, 0); }

/// The other wood's figure, its share and its distance; dashes where it has none.
void put_beside(const WoodBeside& other, const trends::WoodConstant& constant, const Figure& own,
                std::vector<std::string>& row) {
    const std::optional<Figure>& theirs = other.figures.*constant.of;
    row.push_back(theirs ? figure(theirs->value, constant.decimals) : k_none);
    row.push_back(theirs ? percent(own.value / theirs->value) : k_none);
    std::string apart = k_none;
    if (other.likeness)
        for (const trends::ComparedFigure& one : other.likeness->figures)
            if (one.what == constant.compared)
                apart = signed_figure(one.deviations, 1);
    row.push_back(std::move(apart));
}

FlowTable constants_table(const WoodSheet& sheet) {
    FlowTable table =
        table_of({Column{"figure", 3.2}, Column{"value", 1.0, true}, Column{"± (95 %)", 1.0, true},
                  Column{"handbook", 1.2, true}, Column{"% of it", 0.9, true}});
    if (sheet.beside) {
        table.columns.push_back({sheet.beside->label, 1.6, true});
        add(table, {Column{"% of it", 0.9, true}, Column{"spreads apart", 1.4, true}});
    }
    const auto species = plate::find_species(sheet.history.wood.species);
    for (const trends::WoodConstant& constant : trends::k_wood_constants) {
        const std::optional<Figure>& own = sheet.figures.*constant.of;
        if (!own)
            continue;
        std::vector<std::string> row{say(constant.text), figure(own->value, constant.decimals),
                                     figure(base::plus_minus(own->sd), constant.decimals)};
        const double usual =
            species && constant.handbook != nullptr ? species->wood.*constant.handbook : 0.0;
        row.push_back(usual > 0.0 ? figure(usual, constant.decimals) : k_none);
        row.push_back(usual > 0.0 ? percent(own->value / usual) : k_none);
        if (sheet.beside)
            put_beside(*sheet.beside, constant, *own, row);
        table.rows.push_back(std::move(row));
    }
    return table;
}

/// How thick a plate of it is to be, for one that is 100 of the other.
std::string shares_text(const trends::ThicknessChoice& share) {
    std::string words;
    for (const trends::ChosenThickness& chosen : trends::k_chosen_thicknesses)
        if (const auto& one = share.*chosen.mm)
            words += (words.empty() ? "" : "; ") + std::string(say(chosen.text)) + " " +
                     wording::with_range(one->value, one->sd, 1);
    return words;
}

void beside_part(Flow& flow, const WoodBeside& other) {
    if (other.likeness)
        flow.paragraph(
            say("Beside {}: {} spreads apart; two trees met by chance are about 1.4 apart.",
                other.label, figure(other.likeness->distance, 2)));
    const std::string shares = shares_text(other.share);
    if (!shares.empty())
        flow.paragraph(say("A plate of it to be like one of {}, in % of that one's thickness: {}.",
                           other.label, shares));
    if (other.share.mass_share_when_stiff)
        flow.paragraph(say("It would weigh {} % of the other if as stiff in the mean.",
                           percent(*other.share.mass_share_when_stiff)));
}

void constants_part(Flow& flow, const WoodSheet& sheet) {
    const FlowTable table = constants_table(sheet);
    if (table.rows.empty()) {
        flow.paragraph(say("No figure can be told yet: weigh a piece, measure it and tap it."));
    } else {
        flow.heading(say("Constants"));
        flow.table(table);
        flow.paragraph(say("From all tests together. The handbook's is the mean of the species at "
                           "12 % moisture; trees "
                           "of one species differ by a tenth in density and a fifth in stiffness."),
                       true);
    }
    if (sheet.beside)
        beside_part(flow, *sheet.beside);
    for (const std::string& remark : sheet.figures.remarks)
        flow.paragraph(remark);
}

FlowTable tests_table(const ledger::WoodHistory& history) {
    FlowTable table =
        table_of({Column{"date", 2.15}, Column{"piece", 1.2}, Column{"along mm", 1.35, true},
                  Column{"across mm", 1.4, true}, Column{"thick mm", 1.3, true},
                  Column{"g", 1.1, true}, Column{"°C", 0.85, true}, Column{"% RH", 0.85, true},
                  Column{"moist. %", 1.6, true}, Column{"motions", 4.4}, Column{"notes", 2.8}});
    for (const ledger::WoodTest& test : history.tests) {
        const ledger::WoodTestRecord& r = test.record;
        const std::string motions = trends::motions_text(test);
        table.rows.push_back(
            {base::local_date(r.at), std::string(ledger::to_text(r.piece)), figure(r.along_mm, 1),
             figure(r.across_mm, 1), trends::thickness_text(r), or_dash(r.mass_g, 1),
             or_dash(r.temperature_c, 1), or_dash(r.humidity_pct, 0),
             or_dash(trends::moisture_of(r), 1), motions.empty() ? k_none : motions, r.notes});
    }
    return table;
}

Facts facts_of(const WoodSheet& sheet) {
    const ledger::WoodHistory& history = sheet.history;
    const auto species = plate::find_species(history.wood.species);
    Facts facts;
    facts.emplace_back(say("Species"), species ? say(species->name) : say("another"));
    if (!history.wood.origin.empty())
        facts.emplace_back(say("Origin"), history.wood.origin);
    if (!history.tests.empty())
        facts.emplace_back(say("Tests"),
                           days_text(history.tests.size(), history.tests.front().record.at,
                                     history.tests.back().record.at));
    facts.emplace_back(say("Figures at"),
                       sheet.figures.moisture_pct
                           ? say("{} % moisture", figure(*sheet.figures.moisture_pct, 1))
                           : say("the moisture of each day"));
    if (!sheet.plates.empty()) {
        std::string labels;
        for (const std::string& label : sheet.plates)
            labels += (labels.empty() ? "" : ", ") + label;
        facts.emplace_back(say("Carved from it"), labels);
    }
    return facts;
}

} // namespace

int write_sheet(const WoodSheet& sheet, const std::filesystem::path& file, Paper paper,
                base::Timestamp printed) {
    return lay_out(file, paper, running_line(), [&](Flow& flow, double) {
        flow.title(sheet.history.wood.label, printed_line(say("Wood sheet"), printed));
        flow.facts(facts_of(sheet));
        notes_part(flow, sheet.history.wood.notes);
        constants_part(flow, sheet);
        if (!sheet.history.tests.empty()) {
            flow.heading(say("Tests"));
            flow.table(tests_table(sheet.history));
        }
    });
}

} // namespace platewright::report
