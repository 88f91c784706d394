#include "plate_solid.hpp"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>
#include <sys/resource.h>

namespace platewright::outside {
namespace {

using plate::Point;

// The plan in quadrilaterals: corners, and a middle on each of their sides.
struct Quads {
    std::vector<Point> corners;
    std::vector<Point> middles;
    struct Quad {
        std::array<int, 4> corner, middle; // middle[k] lies between corner k and k + 1
        bool under_bar = false;
    };
    std::vector<Quad> quads;
};

class PairIndex {
public:
    int of(int a, int b) {
        return numbers_.try_emplace(std::minmax(a, b), static_cast<int>(numbers_.size()))
            .first->second;
    }
    bool knows(int a, int b) const { return numbers_.contains(std::minmax(a, b)); }

private:
    std::map<std::pair<int, int>, int> numbers_;
};

Point between(Point a, Point b) { return {0.5 * (a.x_mm + b.x_mm), 0.5 * (a.y_mm + b.y_mm)}; }

Quads cut(const Solid& solid) {
    Quads q;
    q.corners = solid.mesh.points;
    PairIndex halves, middles;
    std::map<int, int> half_corner;
    const auto half = [&](int a, int b) {
        const bool known = halves.knows(a, b);
        const int number = halves.of(a, b);
        if (!known) {
            half_corner[number] = static_cast<int>(q.corners.size());
            q.corners.push_back(between(q.corners[static_cast<std::size_t>(a)],
                                        q.corners[static_cast<std::size_t>(b)]));
        }
        return half_corner[number];
    };
    const auto middle = [&](int a, int b) {
        const bool known = middles.knows(a, b);
        const int number = middles.of(a, b);
        if (!known)
            q.middles.push_back(between(q.corners[static_cast<std::size_t>(a)],
                                        q.corners[static_cast<std::size_t>(b)]));
        return number;
    };
    for (const auto& t : solid.mesh.triangles) {
        Point centre{};
        for (const int k : t) {
            centre.x_mm += q.corners[static_cast<std::size_t>(k)].x_mm / 3.0;
            centre.y_mm += q.corners[static_cast<std::size_t>(k)].y_mm / 3.0;
        }
        const int g = static_cast<int>(q.corners.size());
        q.corners.push_back(centre);
        const bool bar = solid.has_bar && solid.has_bar(centre);
        for (std::size_t k = 0; k < 3; ++k) {
            const int a = t[k];
            const int next = half(a, t[(k + 1) % 3]);
            const int previous = half(t[(k + 2) % 3], a);
            Quads::Quad quad{{a, next, g, previous}, {}, bar};
            for (std::size_t s = 0; s < 4; ++s)
                quad.middle[s] = middle(quad.corner[s], quad.corner[(s + 1) % 4]);
            q.quads.push_back(quad);
        }
    }
    return q;
}

// Numbers nodes by place in plan and level, and keeps their coordinates.
class Nodes {
public:
    int at(int place, int level, double x, double y, double z) {
        const auto [found, is_new] =
            numbers_.try_emplace({place, level}, static_cast<int>(numbers_.size()) + 1);
        if (is_new)
            lines_ += fmt::format("{},{:.9g},{:.9g},{:.12g}\n", found->second, x, y, z);
        return found->second;
    }
    const std::string& lines() const { return lines_; }
    int number(int place, int level) const { return numbers_.at({place, level}); }

private:
    std::map<std::pair<int, int>, int> numbers_;
    std::string lines_;
};

class Writer {
public:
    explicit Writer(const Solid& solid) : solid_(solid), quads_(cut(solid)) {
        for (const auto& quad : quads_.quads) {
            for (int layer = 0; layer < solid.layers; ++layer)
                add(quad, 2 * layer);
            if (quad.under_bar)
                for (int layer = 0; layer < k_bar_layers; ++layer)
                    add(quad, -2 * (layer + 1));
        }
    }

    std::string input(int modes, bool with_shapes) const {
        std::string text = "*NODE,NSET=ALL\n" + nodes_.lines();
        text += half("LEFT", elements_[0], solid_.wood.left);
        text += half("RIGHT", elements_[1], solid_.wood.right);
        int element = count_;
        for (const Solid::Mass& mass : solid_.masses) {
            ++element;
            text += fmt::format("*ELEMENT,TYPE=MASS,ELSET=LAID{0}\n{0},{1}\n"
                                "*MASS,ELSET=LAID{0}\n{2:.9g}\n",
                                element, top_node(mass.point), mass.mass_g * 1e-6);
        }
        text += "*NSET,NSET=TOP\n";
        for (std::size_t p = 0; p < solid_.mesh.points.size(); ++p)
            text += fmt::format("{}\n", top_node(p));
        text += fmt::format("*STEP\n*FREQUENCY\n{}\n", modes + 6);
        text += with_shapes ? "*NODE PRINT,NSET=TOP\nU\n*END STEP\n" : "*END STEP\n";
        return text;
    }

    int top_node(std::size_t point) const {
        return nodes_.number(static_cast<int>(point), 2 * solid_.layers);
    }

private:
    static constexpr int k_bar_layers = 3;

    // lengths in mm, forces in N, masses in tonnes: stresses in MPa
    static std::string half(std::string_view name, const std::string& elements,
                            const plate::Wood& w) {
        const Eigen::Matrix3d axes = plate::axes_of(w.lie); // the local x is R, the local y is L
        // ccx reads twenty characters of a number and drops the rest, exponent and all
        return fmt::format(
            "*ELEMENT,TYPE=C3D20R,ELSET={0}\n{1}*ORIENTATION,NAME=GRAIN{0}\n"
            "{2:.9g},{3:.9g},{4:.9g},{5:.9g},{6:.9g},{7:.9g}\n"
            "*MATERIAL,NAME=WOOD{0}\n*ELASTIC,TYPE=ENGINEERING CONSTANTS\n"
            "{8:.9g},{9:.9g},{10:.9g},{11:.9g},{12:.9g},{13:.9g},{14:.9g},{15:.9g}\n{16:.9g},294\n"
            "*DENSITY\n{17:.9g}\n*SOLID SECTION,ELSET={0},MATERIAL=WOOD{0},ORIENTATION=GRAIN{0}\n",
            name, elements, axes(0, 0), axes(1, 0), axes(2, 0), axes(0, 1), axes(1, 1), axes(2, 1),
            w.e_r_gpa * 1e3, w.e_l_gpa * 1e3, w.e_t_gpa * 1e3, w.nu_lr * w.e_r_gpa / w.e_l_gpa,
            w.nu_rt, w.nu_lt, w.g_lr_gpa * 1e3, w.g_rt_gpa * 1e3, w.g_lt_gpa * 1e3,
            w.density_kg_m3 * 1e-12);
    }

    double height(Point p, int level) const {
        const double bottom = solid_.bottom_mm(p);
        if (level >= 0)
            return bottom + (solid_.top_mm(p) - bottom) * level / (2.0 * solid_.layers);
        return bottom + (solid_.bar_foot_mm(p) - bottom) * -level / (2.0 * k_bar_layers);
    }
    int corner(int c, int level) {
        const Point p = quads_.corners[static_cast<std::size_t>(c)];
        return nodes_.at(c, level, p.x_mm, p.y_mm, height(p, level));
    }
    int middle(int m, int level) {
        const Point p = quads_.middles[static_cast<std::size_t>(m)];
        return nodes_.at(static_cast<int>(quads_.corners.size()) + m, level, p.x_mm, p.y_mm,
                         height(p, level));
    }
    // An element between level and level + 2.
    void add(const Quads::Quad& quad, int level) {
        std::string line = fmt::format("{}", ++count_);
        const auto put = [&](int node) { line += fmt::format(",{}", node); };
        for (const int up : {0, 2})
            for (const int c : quad.corner)
                put(corner(c, level + up));
        for (const int m : quad.middle)
            put(middle(m, level));
        for (const int m : quad.middle)
            put(middle(m, level + 2));
        for (const int c : quad.corner)
            put(corner(c, level + 1));
        // no more than 16 entries on a line
        std::size_t comma = 0;
        for (int k = 0; k < 11; ++k)
            comma = line.find(',', comma) + 1;
        double x_mm = 0.0;
        for (const int c : quad.corner)
            x_mm += quads_.corners[static_cast<std::size_t>(c)].x_mm;
        elements_[x_mm < 0.0 ? 0 : 1] += line.substr(0, comma) + "\n" + line.substr(comma) + "\n";
    }

    const Solid& solid_;
    Quads quads_;
    Nodes nodes_;
    std::array<std::string, 2> elements_; // of the left and the right half
    int count_ = 0;
};

void read_frequencies(std::istream& in, std::vector<double>& found) {
    std::string line;
    while (std::getline(in, line) && line.find("FREQUENCY") == std::string::npos) {
    }
    std::getline(in, line);
    std::getline(in, line);
    while (std::getline(in, line)) {
        std::istringstream fields(line);
        int number = 0;
        double eigenvalue = 0.0, radians = 0.0, hertz = 0.0;
        if (fields >> number >> eigenvalue >> radians >> hertz)
            found.push_back(hertz);
        else if (!found.empty())
            return;
    }
}

std::vector<std::map<int, double>> read_motion(std::istream& in) {
    std::vector<std::map<int, double>> modes;
    std::string line;
    while (std::getline(in, line)) {
        std::istringstream fields(line);
        int node = 0;
        double x = 0.0, y = 0.0, z = 0.0;
        if (line.find("displacements") != std::string::npos)
            modes.emplace_back();
        else if (!modes.empty() && fields >> node >> x >> y >> z)
            modes.back()[node] = z;
    }
    return modes;
}

// No plate is this low: ccx has found its shift, not the plate's modes.
constexpr double k_least_hz = 5.0;

double children_seconds() {
    rusage used{};
    getrusage(RUSAGE_CHILDREN, &used);
    const auto seconds = [](const timeval& t) {
        return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
    };
    return seconds(used.ru_utime) + seconds(used.ru_stime);
}

} // namespace

bool has_calculix() { return std::system("command -v ccx >/dev/null 2>&1") == 0; }

SolidModes solve_solid(const Solid& solid, int modes, const std::string& folder, bool with_shapes) {
    std::filesystem::create_directories(folder);
    const Writer writer(solid);
    std::ofstream(folder + "/plate.inp") << writer.input(modes, with_shapes);
    const double begin = children_seconds();
    const std::string command = "cd '" + folder +
                                "' && rm -f plate.dat && OMP_NUM_THREADS=1 "
                                "CCX_NPROC_STIFFNESS=1 ccx -i plate > plate.log 2>&1";
    if (std::system(command.c_str()) != 0)
        throw std::runtime_error("ccx failed; see " + folder + "/plate.log");
    SolidModes result;
    result.seconds = children_seconds() - begin;
    std::ifstream data(folder + "/plate.dat");
    std::vector<double> all;
    read_frequencies(data, all);
    if (static_cast<int>(all.size()) < modes + 6)
        throw std::runtime_error("ccx found too few eigenvalues; see " + folder + "/plate.log");
    result.frequency_hz.assign(all.begin() + 6, all.end());
    if (result.frequency_hz.front() < k_least_hz)
        throw std::runtime_error("ccx did not find the plate's modes; see " + folder +
                                 "/plate.dat");
    if (with_shapes) {
        const auto motion = read_motion(data);
        for (std::size_t m = 6; m < motion.size(); ++m) {
            auto& row = result.top_motion.emplace_back();
            for (std::size_t p = 0; p < solid.mesh.points.size(); ++p)
                row.push_back(motion[m].at(writer.top_node(p)));
        }
    }
    return result;
}

Eigen::MatrixXd solid_shapes(const plate::PlateModel& model, const plate::PlanMesh& mesh,
                             const SolidModes& modes) {
    Eigen::MatrixXd shapes =
        Eigen::MatrixXd::Zero(6 * static_cast<Eigen::Index>(model.nodes()),
                              static_cast<Eigen::Index>(modes.top_motion.size()));
    for (std::size_t i = 0; i < model.nodes(); ++i) {
        const plate::MeshPlace place = plate::locate(mesh, model.points()[i]);
        for (std::size_t m = 0; m < modes.top_motion.size(); ++m)
            for (std::size_t c = 0; c < 3; ++c)
                shapes(static_cast<Eigen::Index>(6 * i + 2), static_cast<Eigen::Index>(m)) +=
                    place.weight[static_cast<Eigen::Index>(c)] *
                    modes.top_motion[m].at(static_cast<std::size_t>(place.nodes[c]));
    }
    return shapes;
}

std::array<plate::ShapeName, 3> solid_names(const plate::PlateModel& model,
                                            const plate::PlanMesh& mesh, const SolidModes& modes) {
    return plate::ShapeJudge(model).names(solid_shapes(model, mesh, modes));
}

} // namespace platewright::outside
