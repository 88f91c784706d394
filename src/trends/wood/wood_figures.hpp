#pragma once
#include "ledger/record.hpp"
#include "plate/wood/wood_prior.hpp"
#include "trends/air/moisture.hpp"

#include <optional>
#include <string>
#include <vector>

namespace platewright::trends {

/// A value with one standard deviation.
struct Figure {
    double value = 0;
    double sd = 0;
};

/// What the measuring and tapping of a wood tell, each as far as it does. Constants in GPa, speeds
/// in m/s; Q of bending along, across, and of the twist. The radiation ratio is the speed of sound
/// along the grain over the density, m^4/(kg s).
struct WoodFigures {
    std::optional<Figure> density_kg_m3;
    std::optional<Figure> e_l_gpa, e_r_gpa, g_lr_gpa;
    std::optional<Figure> sound_l_m_s, sound_r_m_s;
    std::optional<Figure> radiation;
    std::optional<Figure> q_along, q_across, q_twist;
    std::optional<double> moisture_pct; ///< that the figures hold for; nothing: as it was each day
    std::vector<std::string> remarks;   ///< doubts, and what would settle them
};

/// How well a maker measures; standard deviations.
struct WoodErrors {
    double extent_mm = 0.3;     ///< of length and width, by rule
    double thickness_mm = 0.05; ///< by caliper, where the maker does not say how uneven
    double mass_share = 0.002;  ///< of the scales
    double tap_share = 0.003;   ///< of a frequency, from how the piece is held
    double shear_share = 0.3;   ///< of the ratio E/G taken from the handbook
};

/// Of a wedge half way between its edges.
double mean_thickness_mm(const ledger::WoodTestRecord& test);

/// A bar is at least four times as long as it is wide, in the direction it bends; else it is a
/// board.
bool is_bar(double long_mm, double wide_mm);

/// The figures of all tests of a wood together, each weighed by its deviation; where tests differ
/// by more than that, the deviation is widened to what they show. Bars by E1876 with wood's own
/// shear correction (plate/wood/bar.hpp), boards by the shell model (plate/wood/board.hpp), sound
/// by E = rho (2 L f)^2. At `moisture_pct`, where given and the tests know theirs, by the Wood
/// Handbook's slopes: +1 % moisture takes 1.6 % of E_L, 3 % of E_R and G and adds 0.6 % of density
/// (from table 5-14, half of each as its deviation; docs/sources.md). Cost: below 1 s a tapped
/// board. Threads: pure.
WoodFigures wood_figures(const ledger::WoodHistory& wood,
                         std::optional<double> moisture_pct = std::nullopt,
                         const WoodErrors& errors = {});

/// Moisture content of a piece as it was tested: by a meter, else what its air leads to.
std::optional<double> moisture_of(const ledger::WoodTestRecord& test);

/// Of a test, in the language of now: its thickness, with that of a wedge's thin edge; the motions
/// heard or typed; and all of it in a line, with its day. Window, terminal and paper say these.
std::string thickness_text(const ledger::WoodTestRecord& test);
std::string motions_text(const ledger::WoodTest& test);
std::string line_of(const ledger::WoodTest& test);

/// The species' handbook wood, or Norway spruce's where it is another.
plate::Wood handbook_wood(const std::string& species);

/// What the wood's own figures are worth for a plate carved from it: constants and density, each
/// with its deviation and 5 % more, by which a board may differ from the next (common practice, no
/// source). Empty where nothing was measured.
plate::MeasuredWood measured_wood(const ledger::WoodHistory& wood,
                                  std::optional<double> moisture_pct = std::nullopt);
/// The same of the wood that a plate was carved from, at the moisture of a session's air; empty
/// where that was not said.
plate::MeasuredWood billet_of(const ledger::PlateHistory& history,
                              const ledger::SessionRecord& session);

} // namespace platewright::trends
