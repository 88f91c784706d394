#pragma once
/// The outer surface of a plate, and what is not known of it.

#include "plate/readings.hpp"
#include "plate/shape/outline.hpp"

#include <Eigen/Cholesky>

#include <span>
#include <vector>

namespace platewright::plate {

/// What is held of an arch before a height is read; standard deviations.
/// The recipe (long arch a circle, cross arches curtate cycloids: Q. Playfair, The Strad, November
/// 1999, from memory) lies nearest to fullness 3.6 along and 2.1 to 2.4 across where the arch must
/// come level to the edge; catenaries to 4.4 to 4.8 : 1.4 to 1.8, full arches to 6.7 and more :
/// 2.4; solids of full backs and tops were fitted best at 3.3 to 5.2 : 2. 0.25 about 3.2 : 2 covers
/// all but the fullest within two deviations. A circle or a catenary meets its ends at a slope
/// (m = 1), a template with a hollow channel level (2): one and a half deviations lie between,
/// which is reasoned and not fitted to any plate. What a profile leaves of them is a few per cent
/// of the rise (tests/speed/plate_archings.cpp prints these; arch_heights.cpp what the priors are
/// worth).
struct ArchPriors {
    double height_mm = 0.5;     // of the arch's height: it is read with a rule
    double log_fullness = 0.25; // of the logarithm of either fullness
    double log_ends = 0.45;     // of the logarithm of how it comes down to ends and sides
    double departure = 0.05;    // of an arch from the nearest profile, in parts of its rise
    double reach = 0.17;        // of the length: places this far apart depart together
    double reading_mm = 0.2;    // of one height
};

/// Which part of an arch's shape the fit moves: height (mm), logarithms of the fullness along and
/// across and of how it comes down to the ends and to the sides, then smooth departures from the
/// profile, each in its own deviation: so many that heights read every 35 mm don't leave most of
/// what is open in directions that nobody looks at (twelve said half of it).
inline constexpr int k_arch_profile = 5;
inline constexpr int k_arch_departures = 30;
inline constexpr int k_arch_unknowns = k_arch_profile + k_arch_departures;
using ArchShift = Eigen::Matrix<double, k_arch_unknowns, 1>;
using ArchCovariance = Eigen::Matrix<double, k_arch_unknowns, k_arch_unknowns>;

/// An arch at a set of places.
class ArchPlaces {
public:
    /// Heights of the outside, mm, with the shape moved by so much from the most probable one.
    Eigen::VectorXd heights_mm(const ArchShift& shift) const;
    /// Their derivatives: a row a place, a column an unknown.
    Eigen::MatrixXd slopes(const ArchShift& shift) const;

private:
    friend class Arching;
    ArchingProfile profile_;         // the most probable one
    Eigen::VectorXd along_, across_; // -1..1 within the plate
    Eigen::MatrixXd follow_;         // what a height read moves here: a column a reading
    Eigen::VectorXd read_mm_;        // the readings
    Eigen::MatrixXd departures_;     // a column each
    std::vector<double> read_along_, read_across_;
};

/// The outer surface as a function of the place. The cross arch follows the width of the outline
/// smoothed along the length, so that corners lie in the flat of the edge.
/// Height = edge + (arch - edge) * (1 - |t|^p)^m * (1 - |s|^q)^n + departure, with t, s = -1..1
/// along and across. Height, p, q, m and n have priors; the departure is a smooth random surface
/// (Matern 5/2; Rasmussen and Williams 2006, eq. 2.25), much the same left and right, small at the
/// edge. Heights that were read narrow all of them at once (Gauss-Newton on the profile, kriging
/// for the departure), each off by its reading and by what the profile can't follow, so that many
/// good heights are no contradiction. Cost: some 10 ms. Threads: pure once made.
class Arching {
public:
    Arching(const Outline& outline, const ArchingProfile& profile,
            std::span<const HeightReading> readings = {}, const ArchPriors& priors = {});

    double height_mm(Point p) const;
    /// z of the unit normal of the outer surface, in (0, 1].
    double normal_z(Point p) const;
    /// The profile nearest to what is typed and read.
    const ArchingProfile& profile() const { return profile_; }
    /// Of the unknowns, about the most probable shape, which is ArchShift::Zero().
    const ArchCovariance& covariance() const { return covariance_; }
    ArchPlaces at(std::span<const Point> places) const;
    const ArchPriors& priors() const { return priors_; }

private:
    struct Share {
        double along = 0.0, across = 0.0;
    };
    // A place, and how freely the surface departs there: 1, and little at the edge.
    struct Place {
        Point at;
        double free = 1.0;
    };
    Share share(Point p) const;
    Place place(Point p) const;
    Eigen::VectorXd prior_to(const Place& p, std::span<const Place> others) const;
    void read(std::span<const HeightReading> readings);
    void spread();

    Outline outline_;
    ArchingProfile profile_;
    ArchPriors priors_;
    std::vector<double> middle_mm_, half_mm_; // a value each k_step_mm along the length
    ArchCovariance covariance_ = ArchCovariance::Zero();
    double departure_mm_ = 0.0; // standard deviation
    std::vector<Place> read_at_;
    Eigen::VectorXd read_mm_, weights_; // weights_: of the readings in the departure at any place
    Eigen::LLT<Eigen::MatrixXd> read_factor_; // of the readings' covariance under the profile
    std::vector<Place> grid_;
    Eigen::MatrixXd from_grid_; // departures from covariances with the grid and the readings
};

} // namespace platewright::plate
