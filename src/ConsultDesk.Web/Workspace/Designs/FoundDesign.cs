using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;

namespace ConsultDesk.Web.Workspace.Designs;

/// <summary>A design of a search that becomes an option.</summary>
/// <param name="Name">Its name among the designs.</param>
/// <param name="Design">The design.</param>
public sealed record FoundDesign(string Name, Design Design)
{
    /// <summary>
    /// Tells inputs, prices, wishes and method from others, also after a page was read again or the desk was started again: equal texts have equal results.
    /// </summary>
    public static string FingerprintOf(Design design, CostBasis? basis) => Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(
        DesignJson.Write(design) + JsonSerializer.Serialize(basis?.Book.Items) + JsonSerializer.Serialize(basis?.Wishes) + basis?.Currency + Assessor.MethodVersion)));
}
