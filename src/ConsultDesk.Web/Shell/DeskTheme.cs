using MudBlazor;

namespace ConsultDesk.Web.Shell;

/// <summary>
/// What the component library must be told in C#: our type. Colours are not here: desk.css maps the library's
/// variables to its own tokens, so that light and dark are decided by the style sheet before the first paint.
/// </summary>
internal static class DeskTheme
{
    private static readonly string[] TextFace = ["ui-sans-serif", "system-ui", "-apple-system", "Segoe UI", "Noto Sans", "Liberation Sans", "sans-serif"];

    public static MudTheme Create()
    {
        var theme = new MudTheme();
        theme.Typography.Default.FontFamily = TextFace;
        theme.Typography.Default.FontSize = "0.9375rem";
        theme.Typography.Button.TextTransform = "none";
        theme.Typography.Button.LetterSpacing = "0";
        theme.LayoutProperties.DefaultBorderRadius = "3px";
        return theme;
    }
}
