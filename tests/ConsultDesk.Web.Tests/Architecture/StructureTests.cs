using System.Reflection;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components;
using Xunit;

namespace ConsultDesk.Web.Tests.Architecture;

public sealed partial class StructureTests
{
    /// <summary>Who may know whom: docs/decisions and DEVELOPERS.md say why.</summary>
    public static TheoryData<string, string[]> References => new()
    {
        { "src/ConsultDesk.Calculations/ConsultDesk.Calculations.csproj", [] },
        { "src/ConsultDesk.Records/ConsultDesk.Records.csproj", ["ConsultDesk.Calculations"] },
        { "src/ConsultDesk.Reports/ConsultDesk.Reports.csproj", ["ConsultDesk.Calculations"] },
        { "migrations/ConsultDesk.Migrations.Sqlite/ConsultDesk.Migrations.Sqlite.csproj", ["ConsultDesk.Records"] },
        { "migrations/ConsultDesk.Migrations.Postgres/ConsultDesk.Migrations.Postgres.csproj", ["ConsultDesk.Records"] },
        { "wwwroot-assets/ConsultDesk.Assets.csproj", [] },
        {
            "src/ConsultDesk.Web/ConsultDesk.Web.csproj",
            ["ConsultDesk.Assets", "ConsultDesk.Calculations", "ConsultDesk.Migrations.Postgres", "ConsultDesk.Migrations.Sqlite", "ConsultDesk.Records", "ConsultDesk.Reports"]
        },
    };

    [Theory]
    [MemberData(nameof(References))]
    public void A_project_knows_only_whom_it_may(string project, string[] allowed)
    {
        var known = XDocument.Load(Repository.At(project.Split('/'))).Descendants("ProjectReference")
            .Select(r => Path.GetFileNameWithoutExtension(r.Attribute("Include")!.Value.Replace('\\', '/')))
            .Order(StringComparer.Ordinal);

        Assert.Equal(allowed, known);
    }

    [Fact]
    public void Calculations_takes_nothing_from_a_package_but_its_units()
    {
        var packages = XDocument.Load(Repository.At("src", "ConsultDesk.Calculations", "ConsultDesk.Calculations.csproj")).Descendants("PackageReference")
            .Where(p => p.Attribute("PrivateAssets")?.Value != "all")
            .Select(p => p.Attribute("Include")!.Value);

        Assert.Equal(["UnitsNet"], packages);
    }

    [Fact]
    public void Program_stays_short_enough_to_read_at_once() =>
        Assert.InRange(File.ReadAllLines(Repository.At("src", "ConsultDesk.Web", "Program.cs")).Length, 10, 59);

    [Fact]
    public void No_page_of_ours_carries_an_inline_style_or_script()
    {
        var pages = Repository.Files("src/ConsultDesk.Web", "*.razor").ToList();
        Assert.NotEmpty(pages);

        var offenders = pages.Where(page => InlineStyle().IsMatch(File.ReadAllText(page)) || InlineScript().IsMatch(File.ReadAllText(page)));

        Assert.Empty(offenders.Select(Path.GetFileName));
    }

    [Fact]
    public void Pages_hold_no_physics()
    {
        string[] physics = ["ConsultDesk.Calculations.Air", "ConsultDesk.Calculations.Airflow", "ConsultDesk.Calculations.Moisture", "ConsultDesk.Calculations.Heating"];
        var sources = Repository.Files("src/ConsultDesk.Web", "*.razor").Concat(Repository.Files("src/ConsultDesk.Web", "*.cs")).ToList();
        Assert.NotEmpty(sources);

        var offenders = sources.Where(source => physics.Any(space => Regex.IsMatch(File.ReadAllText(source), Regex.Escape(space) + @"(?![A-Za-z])")));

        Assert.Empty(offenders.Select(Path.GetFileName));
    }

    [Fact]
    public void Every_page_says_who_may_see_it()
    {
        var pages = typeof(Program).Assembly.GetTypes().Where(t => t.GetCustomAttributes<RouteAttribute>(inherit: false).Any()).ToList();
        Assert.NotEmpty(pages);

        Assert.Empty(pages.Where(p => !p.GetCustomAttributes<AuthorizeAttribute>().Any() && p.GetCustomAttribute<AllowAnonymousAttribute>() is null).Select(p => p.Name));
        Assert.Equal(
            ["Error", "IntakePage", "JoinPage", "PlanPage", "PlanReplyPage", "PlanReportPage", "SetUp", "SignIn", "SignInCode", "SignOut", "StatusPage"],
            pages.Where(p => p.GetCustomAttribute<AllowAnonymousAttribute>() is not null).Select(p => p.Name).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void No_type_is_named_after_nothing_in_particular()
    {
        var types = Repository.Files("src", "*.cs").SelectMany(file => TypeName().Matches(File.ReadAllText(file)).Select(m => m.Groups[1].Value)).ToList();
        Assert.NotEmpty(types);

        // The base of a bed is a thing.
        Assert.DoesNotContain(types, name => name != "BedBase" && Regex.IsMatch(name, "(Manager|Helper|Service|Services|Utils|Utilities|Base)$"));
    }

    /// <summary>A set value takes letters out of the field again that were typed while the answer to an earlier one was on its way; a bound one does not.</summary>
    [Fact]
    public void A_text_field_that_is_followed_letter_by_letter_is_bound()
    {
        var fields = Repository.Files("src/ConsultDesk.Web", "*.razor")
            .SelectMany(page => Field().Matches(File.ReadAllText(page)).Select(field => (Page: Path.GetFileName(page), Text: field.Value)))
            .Where(field => !field.Text.Contains("type=\"color\"", StringComparison.Ordinal))
            .ToList();
        Assert.Contains(fields, field => field.Text.Contains("@bind:event=\"oninput\"", StringComparison.Ordinal));

        Assert.DoesNotContain(fields, field => field.Text.Contains("@oninput=", StringComparison.Ordinal) && field.Text.Contains(" value=\"", StringComparison.Ordinal));
    }

    [Fact]
    public void Nothing_is_fetched_from_elsewhere()
    {
        var files = Repository.Files("src/ConsultDesk.Web", "*.razor").Concat(Repository.Files("wwwroot-assets/wwwroot", "*.css")).Concat(Repository.Files("wwwroot-assets/wwwroot", "*.js"));

        Assert.Empty(files.Where(file => Regex.IsMatch(File.ReadAllText(file), @"(src|href)=""https?://|url\(['""]?https?://|@import|from ""https?://")).Select(Path.GetFileName));
    }

    [GeneratedRegex(@"<(input|textarea)\b(?:[^>""]|""[^""]*"")*>")]
    private static partial Regex Field();

    [GeneratedRegex(@"\sstyle\s*=", RegexOptions.IgnoreCase)]
    private static partial Regex InlineStyle();

    [GeneratedRegex(@"<script(?![^>]*\ssrc=)|\son[a-z]+\s*=\s*""(?!@)")]
    private static partial Regex InlineScript();

    [GeneratedRegex(@"\b(?:class|record|struct|interface|enum)\s+([A-Z]\w*)")]
    private static partial Regex TypeName();
}
