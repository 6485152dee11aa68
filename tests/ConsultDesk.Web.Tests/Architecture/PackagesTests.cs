using System.Text.Json;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using Xunit;

namespace ConsultDesk.Web.Tests.Architecture;

/// <summary>What comes from the registry: one exact version of each, locked, and all of it in the bill of materials.</summary>
public sealed partial class PackagesTests
{
    // The mutants' project stands outside the solution and the test run: it is restored for itself, with what the others lock.
    private static IEnumerable<string> Projects =>
        InSolution().Matches(File.ReadAllText(Repository.At("ConsultDesk.sln"))).Select(match => Repository.At(match.Groups[1].Value.Split('\\')));

    [Fact]
    public void Each_version_is_exact_and_stands_in_one_place()
    {
        var versions = XDocument.Load(Repository.At("Directory.Packages.props")).Descendants("PackageVersion").ToArray();
        Assert.NotEmpty(versions);
        Assert.All(versions, version => Assert.Matches(Exact(), version.Attribute("Version")!.Value));
        Assert.Equal(versions.Length, versions.Select(version => version.Attribute("Include")!.Value).Distinct(StringComparer.OrdinalIgnoreCase).Count());
        Assert.All(
            Projects.SelectMany(project => XDocument.Load(project).Descendants("PackageReference")),
            reference => Assert.Null(reference.Attribute("Version") ?? reference.Attribute("VersionOverride")));
    }

    [Fact]
    public void Each_project_of_the_solution_has_its_lock()
    {
        Assert.NotEmpty(Projects);
        Assert.All(Projects, project => Assert.True(File.Exists(Path.Combine(Path.GetDirectoryName(project)!, "packages.lock.json")), project));
    }

    // The bill is written by tests/run.sh from what the restore resolved (CycloneDX); the locks are the other witness.
    [Fact]
    public void The_bill_of_materials_lists_every_resolved_package_and_no_other()
    {
        var bill = Environment.GetEnvironmentVariable("DESK_TEST_BILL");
        Assert.SkipWhen(string.IsNullOrEmpty(bill), "DESK_TEST_BILL names no bill of materials; tests/run.sh writes one.");

        using var text = JsonDocument.Parse(File.ReadAllText(bill!));
        Assert.Equal("CycloneDX", text.RootElement.GetProperty("bomFormat").GetString());
        var components = text.RootElement.GetProperty("components").EnumerateArray().ToArray();
        var listed = components.Select(one => $"{one.GetProperty("name").GetString()} {one.GetProperty("version").GetString()}");
        Assert.Equal(Resolved().Order(StringComparer.OrdinalIgnoreCase), listed.Order(StringComparer.OrdinalIgnoreCase), StringComparer.OrdinalIgnoreCase);
        Assert.All(components, one => Assert.True(one.TryGetProperty("hashes", out var hashes) && hashes.GetArrayLength() > 0, one.GetProperty("name").GetString()));
    }

    private static HashSet<string> Resolved()
    {
        var resolved = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (var file in Repository.Files("", "packages.lock.json"))
        {
            using var text = JsonDocument.Parse(File.ReadAllText(file));
            foreach (var package in text.RootElement.GetProperty("dependencies").EnumerateObject().SelectMany(framework => framework.Value.EnumerateObject()))
            {
                if (package.Value.GetProperty("type").GetString() != "Project")
                {
                    resolved.Add($"{package.Name} {package.Value.GetProperty("resolved").GetString()}");
                }
            }
        }

        return resolved;
    }

    [GeneratedRegex(@"""([^""]+\.csproj)""")]
    private static partial Regex InSolution();

    [GeneratedRegex(@"^\d+\.\d+(\.\d+){0,2}(-[0-9A-Za-z.-]+)?$")]
    private static partial Regex Exact();
}
