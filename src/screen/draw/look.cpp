#include "screen/draw/look.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>

namespace platewright::screen {
namespace {

struct Face {
    const char* regular;
    const char* bold;
};
// Debian's fonts-lato, then fonts-dejavu-core.
constexpr std::array k_faces{
    Face{"/usr/share/fonts/truetype/lato/Lato-Regular.ttf",
         "/usr/share/fonts/truetype/lato/Lato-Bold.ttf"},
    Face{"/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf",
         "/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf"},
};

// Latin with its European letters, dashes and quotes, arrows, minus and the like.
constexpr std::array<ImWchar, 11> k_letters{0x20,   0x17F,  0x2010, 0x2044, 0x2070, 0x2090,
                                            0x20AC, 0x20AC, 0x2190, 0x22FF, 0};
// Words that are read from across the workshop: no more letters than its languages have.
constexpr std::array<ImWchar, 9> k_word_letters{0x20,   0x7E,   0xA0,   0xFF, 0x2010,
                                                0x2026, 0x2212, 0x2212, 0};
// The largest cut: figures and what stands with them. A whole alphabet of that size would fill the
// atlas of a large window.
constexpr std::array<ImWchar, 7> k_figure_letters{0x20, 0x3A, 0x2012, 0x2014, 0x2212, 0x2212, 0};

/// The lettering that an archive of the program brings along, for systems without these packages.
std::filesystem::path own_lettering() {
    std::error_code none;
    const std::filesystem::path program = std::filesystem::read_symlink("/proc/self/exe", none);
    return program.parent_path().parent_path().parent_path() / "share/platewright/fonts";
}

ImFont* cut(const char* file, double size_px, const ImWchar* letters) {
    ImGuiIO& io = ImGui::GetIO();
    ImFontConfig config;
    config.OversampleH = size_px < 30.0 ? 2 : 1;
    config.OversampleV = 1;
    config.PixelSnapH = false;
    config.SizePixels = static_cast<float>(std::round(size_px));
    if (file == nullptr) {
        return io.Fonts->AddFontDefault(&config);
    }
    return io.Fonts->AddFontFromFileTTF(file, config.SizePixels, &config, letters);
}

ImVec4 channel(plot::Colour c) {
    return {static_cast<float>(c.red) / 255.0F, static_cast<float>(c.green) / 255.0F,
            static_cast<float>(c.blue) / 255.0F, static_cast<float>(c.opacity) / 255.0F};
}

} // namespace

ImFont* Fonts::at_least(double height, plot::Weight weight) const {
    const auto& cuts = weight == plot::Weight::bold ? bold : regular;
    for (ImFont* font : cuts) {
        if (static_cast<double>(font->FontSize) >= height - 0.75) {
            return font;
        }
    }
    return cuts.back();
}

Fonts cut_fonts(double scale) {
    const Face* face = nullptr;
    for (const Face& candidate : k_faces) {
        if (std::filesystem::exists(candidate.regular) && std::filesystem::exists(candidate.bold)) {
            face = &candidate;
            break;
        }
    }
    const std::string own_regular = (own_lettering() / "Lato-Regular.ttf").string();
    const std::string own_bold = (own_lettering() / "Lato-Bold.ttf").string();
    const Face own{own_regular.c_str(), own_bold.c_str()};
    if (face == nullptr && std::filesystem::exists(own_regular) &&
        std::filesystem::exists(own_bold)) {
        face = &own;
    }
    const char* regular = face != nullptr ? face->regular : nullptr;
    const char* bold = face != nullptr ? face->bold : nullptr;
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    atlas.Clear();
    atlas.TexDesiredWidth = scale > 3.2 ? 8192 : scale > 1.6 ? 4096 : 2048;
    Fonts fonts;
    // The body comes first: Dear ImGui takes the first for its own widgets.
    ImFont* const body = cut(regular, k_body * scale, k_letters.data());
    fonts.regular = {cut(regular, k_small * scale, k_letters.data()), body,
                     cut(regular, k_lead * scale, k_letters.data())};
    for (const double size : {k_small, k_body, k_lead, k_delta}) {
        fonts.bold.push_back(cut(bold, size * scale, k_letters.data()));
    }
    fonts.bold.push_back(cut(bold, k_word * scale, k_word_letters.data()));
    fonts.bold.push_back(cut(bold, k_figure * scale, k_figure_letters.data()));
    atlas.Build();
    return fonts;
}

double scale_for(double width_px, double height_px, double text_size, double density) {
    constexpr double k_most = 1.35;
    const double window = std::min(width_px / 1280.0, height_px / 800.0);
    const double fit = std::min(window, k_most * std::max(1.0, density)) * text_size;
    constexpr double step = 1.0 / 16.0;
    return std::clamp(std::floor(fit / step + 1e-6) * step, 0.5, 8.0);
}

bool has_room(double width_px, double height_px, double scale) {
    return width_px >= 1024.0 * scale && height_px >= 640.0 * scale;
}

void dress(const Look& look) {
    const plot::Palette& p = *look.palette;
    ImGuiStyle style;
    style.WindowPadding = {look.px(14), look.px(12)};
    style.FramePadding = {look.px(12), look.px(8)};
    style.ItemSpacing = {look.px(10), look.px(9)};
    style.ItemInnerSpacing = {look.px(8), look.px(6)};
    style.ScrollbarSize = look.px(16);
    style.GrabMinSize = look.px(18);
    style.WindowBorderSize = 0.0F;
    style.ChildBorderSize = look.px(1);
    style.FrameBorderSize = look.px(1);
    style.PopupBorderSize = look.px(1);
    style.WindowRounding = 0.0F;
    style.ChildRounding = look.px(8);
    style.FrameRounding = look.px(6);
    style.PopupRounding = look.px(6);
    style.ScrollbarRounding = look.px(8);
    style.GrabRounding = look.px(6);
    style.CellPadding = {look.px(8), look.px(6)};

    const auto set = [&style](ImGuiCol which, plot::Colour colour) {
        style.Colors[which] = channel(colour);
    };
    const plot::Colour hover = p.accent.faded(0.18);
    const plot::Colour held = p.accent.faded(0.32);
    set(ImGuiCol_Text, p.ink);
    set(ImGuiCol_TextDisabled, p.faint_ink);
    set(ImGuiCol_WindowBg, p.ground);
    set(ImGuiCol_ChildBg, p.panel);
    set(ImGuiCol_PopupBg, p.panel);
    set(ImGuiCol_Border, p.line);
    set(ImGuiCol_FrameBg, p.ground);
    set(ImGuiCol_FrameBgHovered, hover);
    set(ImGuiCol_FrameBgActive, held);
    set(ImGuiCol_Button, p.ground);
    set(ImGuiCol_ButtonHovered, hover);
    set(ImGuiCol_ButtonActive, held);
    set(ImGuiCol_Header, p.accent.faded(0.22));
    set(ImGuiCol_HeaderHovered, hover);
    set(ImGuiCol_HeaderActive, held);
    set(ImGuiCol_CheckMark, p.accent);
    set(ImGuiCol_ScrollbarBg, p.ground.faded(0.0));
    set(ImGuiCol_ScrollbarGrab,
        p.faint_ink.faded(0.45)); // the line colour is hardly seen in the dark
    set(ImGuiCol_ScrollbarGrabHovered, p.faint_ink);
    set(ImGuiCol_ScrollbarGrabActive, p.accent);
    set(ImGuiCol_TableHeaderBg, p.ground);
    set(ImGuiCol_TableBorderStrong, p.line);
    set(ImGuiCol_TableBorderLight, p.line);
    set(ImGuiCol_TableRowBgAlt, p.ground.faded(0.5));
    set(ImGuiCol_TextSelectedBg, p.accent.faded(0.35));
    set(ImGuiCol_NavHighlight, p.accent);
    set(ImGuiCol_Separator, p.line);
    ImGui::GetStyle() = style;
}

ImU32 packed(plot::Colour c) { return IM_COL32(c.red, c.green, c.blue, c.opacity); }

} // namespace platewright::screen
