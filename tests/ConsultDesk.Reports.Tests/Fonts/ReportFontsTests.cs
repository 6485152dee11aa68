using System.Text;
using ConsultDesk.Reports.Fonts;
using Xunit;

namespace ConsultDesk.Reports.Tests.Fonts;

public sealed class ReportFontsTests
{
    [Theory]
    [InlineData("ABC abc 0123456789 .,;:-()/&<>'\"%")]
    [InlineData("°C m² m³ cm² W/(m²·K) λ − × – ‘ ’ “ ” … ₂ ≤ ≥ → ½")]
    [InlineData("Ελένη Παπαδοπούλου")]
    [InlineData("Анна Черновская, Ґалаґан")]
    [InlineData("Åse Østergård, Zoë, Łukasz, Şükrü, Ngọc Trâm")]
    public void Both_faces_print_the_characters_of_our_texts_and_of_European_names(string text)
    {
        foreach (var character in text.EnumerateRunes())
        {
            Assert.True(ReportFonts.Regular.Prints(character), $"Regular lacks {character}");
            Assert.True(ReportFonts.Bold.Prints(character), $"SemiBold lacks {character}");
        }
    }

    [Fact]
    public void A_character_the_faces_lack_is_known_to_be_missing()
    {
        Assert.False(ReportFonts.Regular.Prints(new Rune('漢')));
        Assert.False(ReportFonts.Regular.Prints(Rune.GetRuneAt("🚐", 0)));
    }

    [Fact]
    public void Widths_add_up_and_follow_the_letters()
    {
        Assert.True(ReportFonts.Width("i", 10) < ReportFonts.Width("M", 10));
        Assert.Equal(ReportFonts.Width("Van", 10) + ReportFonts.Width("life", 10), ReportFonts.Width("Vanlife", 10), 9);
        Assert.True(ReportFonts.Width("Van", 10, bold: true) > ReportFonts.Width("Van", 10));
        Assert.InRange(ReportFonts.Width("n", 100), 45, 65);
    }

    [Fact]
    public void Nothing_of_the_font_package_ships_beside_us() =>
        Assert.Empty(Directory.EnumerateFiles(AppContext.BaseDirectory, "Avalonia*"));
}
