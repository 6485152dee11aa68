using System.Linq.Expressions;
using System.Reflection;
using System.Text.Json;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>
/// Every question and every command of the records, found by reflection, asked by another firm's owner with every id of ours. A method or a kind of
/// row that is added later is covered, or the test says what it does not know.
/// </summary>
public sealed class OtherFirmTests(TestStores stores) : IClassFixture<TestStores>
{
    /// <summary>Stands in every text of our firm; what a stranger gets back never holds it.</summary>
    private const string Ours = "Ours alone";

    /// <summary>Methods that take no id from outside: they are asked too, but need not find one wrong.</summary>
    private static readonly HashSet<string> KeepALine = ["AuditTrail.Seen", "AuditTrail.Exported", "AuditTrail.MailSent"];

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task No_question_and_no_command_of_another_firm_reads_or_changes_a_row_of_ours(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var rows = await Fill(desk);
        var before = await Everything(desk);
        var methods = Methods().ToList();
        Assert.True(methods.Count > 100, $"Only {methods.Count} methods were found.");
        var unreached = new List<string>();
        var leaks = new List<string>();

        foreach (var (type, method) in methods)
        {
            var ids = method.GetParameters().Where(p => IsId(p)).ToList();
            var refusedOrEmpty = ids.Count == 0 || KeepALine.Contains(Name(type, method));
            foreach (var row in ids.Count == 0 ? rows.Take(1) : rows)
            {
                foreach (var first in ids.Count > 1 ? rows.Where(r => ids[0].Name != "vanId" || r.Kind == typeof(Van)) : [row])
                {
                    var given = method.GetParameters().Select(p => p switch
                    {
                        _ when p.ParameterType == typeof(SignedIn) => desk.Stranger,
                        _ when p.ParameterType == typeof(CancellationToken) => CancellationToken.None,
                        _ when IsId(p) => p == ids[0] ? first.Id : row.Id,
                        _ when p.ParameterType == typeof(Guid) || p.ParameterType == typeof(Guid?) => row.Version,
                        _ when p.ParameterType == typeof(DeskRole) => DeskRole.Consultant,
                        _ when p.Name == "table" => PriceCsv.Write(PriceBooks.Default),
                        _ when p.HasDefaultValue => p.DefaultValue,
                        _ => Some(p.ParameterType),
                    }).ToArray();
                    try
                    {
                        var answer = await Ask(desk, type, method, given);
                        refusedOrEmpty = true;
                        if (JsonSerializer.Serialize(answer, Loose).Contains(Ours, StringComparison.Ordinal))
                        {
                            leaks.Add($"{Name(type, method)} with a {row.Kind.Name}");
                        }
                    }
                    catch (Exception e) when (e is RecordNotFoundException or RecordChangedException or LastOwnerException)
                    {
                        refusedOrEmpty = true;
                    }
                    catch (Exception e) when (e is ArgumentException or InvalidOperationException || e.GetType().Assembly == typeof(Client).Assembly)
                    {
                        // Refused for what was typed, before the id was looked at: another row, or the list below, tells.
                    }
                }
            }

            if (!refusedOrEmpty)
            {
                unreached.Add(Name(type, method));
            }
        }

        Assert.Equal([], leaks);
        Assert.Equal([], unreached);
        Assert.Equal(before, await Everything(desk));
    }

    private static readonly JsonSerializerOptions Loose = new()
    {
        ReferenceHandler = System.Text.Json.Serialization.ReferenceHandler.IgnoreCycles,
        Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        NumberHandling = System.Text.Json.Serialization.JsonNumberHandling.AllowNamedFloatingPointLiterals,
        MaxDepth = 256,
    };

    private static string Name(Type type, MethodInfo method) => type.Name + "." + method.Name;

    private static bool IsId(ParameterInfo p) => p.ParameterType == typeof(Guid) && !p.Name!.EndsWith("Version", StringComparison.Ordinal);

    /// <summary>All that takes who asks, of all classes the records register.</summary>
    private static IEnumerable<(Type Type, MethodInfo Method)> Methods()
    {
        var services = new ServiceCollection();
        services.AddRecords(StoreKind.Sqlite, "Data Source=:memory:");
        return from type in services.Select(s => s.ServiceType).Where(t => t.Assembly == typeof(Client).Assembly).Distinct()
               from method in type.GetMethods(BindingFlags.Public | BindingFlags.Instance | BindingFlags.DeclaredOnly)
               where method.GetParameters().Any(p => p.ParameterType == typeof(SignedIn))
               orderby type.Name, method.Name
               select (type, method);
    }

    private static async Task<object?> Ask(TestDesk desk, Type type, MethodInfo method, object?[] given)
    {
        try
        {
            var task = (Task)method.Invoke(desk.App.GetRequiredService(type), given)!;
            await task;
            return task.GetType().GetProperty("Result")?.GetValue(task);
        }
        catch (TargetInvocationException e)
        {
            throw e.InnerException!;
        }
    }

    /// <summary>One row of every kind that belongs to a firm, each text of it <see cref="Ours"/>; and the people.</summary>
    private static async Task<List<(Type Kind, Guid Id, Guid Version)>> Fill(TestDesk desk)
    {
        var client = await desk.Clients.AddClient(desk.Ada, new ClientInput(Ours));
        var van = await desk.Vans.AddVan(desk.Ada, client, new VanInput(Ours, "long-high", "rear-platform-bed", 2019), Ours, SampleDesign.Van());
        var loaded = (await desk.Options.Load(desk.Ada, van.OptionId))!;
        var plan = await desk.Plans.Publish(desk.Ada, van.OptionId, loaded.Version, _ => new PlanText(Ours, 1, "m"));
        await desk.Options.MarkChosen(desk.Ada, van.OptionId, loaded.Version);
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        var missing = db.Model.GetEntityTypes().Select(e => e.ClrType).Where(t => typeof(FirmRow).IsAssignableFrom(t)).ToHashSet();
        foreach (var kind in await Kinds(db, missing))
        {
            missing.Remove(kind);
        }

        // Parents before their children.
        var made = new Dictionary<string, Guid> { ["ClientId"] = client, ["VanId"] = van.VanId, ["OptionId"] = van.OptionId, ["PlanId"] = plan.PlanId };
        foreach (var kind in missing.OrderBy(k => k.Name, StringComparer.Ordinal))
        {
            var row = (FirmRow)Activator.CreateInstance(kind)!;
            foreach (var property in db.Model.FindEntityType(kind)!.GetProperties().Select(p => p.PropertyInfo!).Where(p => p.Name is not ("Id" or "FirmId" or "Version")))
            {
                property.SetValue(row, property.PropertyType switch
                {
                    var t when t == typeof(Guid) && made.TryGetValue(property.Name, out var parent) => parent,
                    var t when t == typeof(Guid) && property.Name.EndsWith("Id", StringComparison.Ordinal) => throw new NotSupportedException($"{kind.Name}.{property.Name}: add its parent to this test."),
                    var t when t == typeof(Guid) => desk.Ada.UserId,
                    var t when t == typeof(string) && property.Name is "AnswersText" => IntakeAnswers.Write(IntakeAnswers.None),
                    var t when t == typeof(string) && property.Name is "Sha256" => new string('a', 64),
                    var t when t == typeof(string) && property.Name is "Gone" or "Stayed" => "",
                    var t when t == typeof(string) => Ours,
                    var t when t == typeof(byte[]) => kind.Name.Select(c => (byte)c).ToArray(),
                    var t when t == typeof(DateTime) => new DateTime(2026, 3, 1, 0, 0, 0, DateTimeKind.Utc),
                    var t when t == typeof(DateOnly) => new DateOnly(2026, 3, 1),
                    var t when t.IsValueType && Nullable.GetUnderlyingType(t) is null => Activator.CreateInstance(t),
                    _ => null,
                });
            }

            db.Add(row);
            await db.SaveChangesAsync();
            made.TryAdd(kind.Name + "Id", row.Id);
        }

        var rows = new List<(Type, Guid, Guid)> { (typeof(DeskUser), desk.Ben.UserId, Guid.NewGuid()), (typeof(DeskUser), desk.Ada.UserId, Guid.NewGuid()), (typeof(Firm), desk.Ada.FirmId, (await desk.Firms.Mine(desk.Ada)).Version) };
        foreach (var row in await All(desk))
        {
            rows.Add((row.GetType(), row.Id, (row as IVersioned)?.Version ?? Guid.NewGuid()));
        }

        Assert.Equal(db.Model.GetEntityTypes().Count(e => typeof(FirmRow).IsAssignableFrom(e.ClrType)), rows.Select(r => r.Item1).Where(t => typeof(FirmRow).IsAssignableFrom(t)).Distinct().Count());
        // One of each kind is enough; the audit has many.
        return [.. rows.GroupBy(r => r.Item1).SelectMany(g => g.Take(2))];
    }

    private static async Task<List<Type>> Kinds(DeskContext db, IEnumerable<Type> kinds)
    {
        var there = new List<Type>();
        foreach (var kind in kinds)
        {
            if ((await Rows(db, kind)).Count > 0)
            {
                there.Add(kind);
            }
        }

        return there;
    }

    private static async Task<List<FirmRow>> All(TestDesk desk)
    {
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        var all = new List<FirmRow>();
        foreach (var kind in db.Model.GetEntityTypes().Select(e => e.ClrType).Where(t => typeof(FirmRow).IsAssignableFrom(t)).OrderBy(t => t.Name, StringComparer.Ordinal))
        {
            all.AddRange(await Rows(db, kind));
        }

        return all;
    }

    /// <summary>Every row of our firm and its people, as text.</summary>
    private static async Task<string> Everything(TestDesk desk)
    {
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        var people = await db.Users.AsNoTracking().Where(u => u.FirmId == desk.Ada.FirmId).OrderBy(u => u.Id).ToListAsync();
        var rows = (await All(desk)).OrderBy(r => r.GetType().Name, StringComparer.Ordinal).ThenBy(r => r.Id);
        return JsonSerializer.Serialize(new object[] { await db.Firms.AsNoTracking().SingleAsync(), people, rows.Cast<object>() }, Loose);
    }

    private static Task<List<FirmRow>> Rows(DeskContext db, Type kind) =>
        (Task<List<FirmRow>>)typeof(OtherFirmTests).GetMethod(nameof(RowsOf), BindingFlags.NonPublic | BindingFlags.Static)!.MakeGenericMethod(kind).Invoke(null, [db])!;

    private static async Task<List<FirmRow>> RowsOf<T>(DeskContext db)
        where T : FirmRow => [.. await db.Set<T>().AsNoTracking().OrderBy(r => r.Id).ToListAsync()];

    /// <summary>Something of a type that a command takes: right enough to get past the check of what was typed.</summary>
    private static object? Some(Type type)
    {
        if (Nullable.GetUnderlyingType(type) is { } inner)
        {
            return Some(inner);
        }

        return type switch
        {
            _ when type == typeof(string) => "x",
            _ when type == typeof(int) => 60,
            _ when type == typeof(double) => 1d,
            _ when type == typeof(DateOnly) => new DateOnly(2026, 6, 1),
            _ when type == typeof(TimeOnly) => new TimeOnly(12, 0),
            _ when type == typeof(DateTime) => new DateTime(2026, 6, 1, 0, 0, 0, DateTimeKind.Utc),
            _ when type == typeof(Guid) => Guid.NewGuid(),
            // A signature of PNG and one of JPEG would be refused the one as the other; these bytes are refused by both, after the id.
            _ when type == typeof(byte[]) => new byte[] { 0xFF, 0xD8, 0xFF, 0xE0 },
            _ when type == typeof(Design) => SampleDesign.Van(),
            _ when type == typeof(PriceBook) => PriceBooks.Default,
            _ when type == typeof(ConsultInput) => new ConsultInput(new DateOnly(2026, 6, 1), new TimeOnly(12, 0), 60, "Europe/Oslo"),
            _ when type == typeof(FirmInput) => new FirmInput("F", "#112233", null, "EUR", UnitPreset.Metric),
            _ when type.IsValueType => Activator.CreateInstance(type),
            _ when typeof(Delegate).IsAssignableFrom(type) => SomeFunction(type),
            _ when type == typeof(HourlyWeather) => WeatherFileStoreTests.Hours(),
            _ when type.IsGenericType && type.GetGenericTypeDefinition() == typeof(IReadOnlyDictionary<,>) => Activator.CreateInstance(typeof(Dictionary<,>).MakeGenericType(type.GetGenericArguments())),
            _ when type.IsGenericType && type.IsInterface && type.IsAssignableFrom(type.GetGenericArguments()[0].MakeArrayType()) => Array.CreateInstance(type.GetGenericArguments()[0], 0),
            _ when type.IsArray => Array.CreateInstance(type.GetElementType()!, 0),
            _ => SomeRecord(type),
        };
    }

    private static Delegate SomeFunction(Type type)
    {
        var invoke = type.GetMethod("Invoke")!;
        var parameters = invoke.GetParameters().Select(p => Expression.Parameter(p.ParameterType)).ToArray();
        Expression body = invoke.ReturnType == typeof(void) ? Expression.Empty() : Expression.Constant(Some(invoke.ReturnType), invoke.ReturnType);
        return Expression.Lambda(type, body, parameters).Compile();
    }

    private static object SomeRecord(Type type)
    {
        var constructor = type.GetConstructors().OrderByDescending(c => c.GetParameters().Length).FirstOrDefault(c => c.GetParameters().All(p => p.ParameterType != type))
            ?? throw new NotSupportedException($"{type} has no public constructor: tell this test how to make one.");
        return constructor.Invoke([.. constructor.GetParameters().Select(p => p.HasDefaultValue ? p.DefaultValue : Some(p.ParameterType))]);
    }
}
