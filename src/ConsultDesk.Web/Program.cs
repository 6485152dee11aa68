using ConsultDesk.Records;
using ConsultDesk.Web.Account;
using ConsultDesk.Web.AfterBuild;
using ConsultDesk.Web.Backup;
using ConsultDesk.Web.Consultancy;
using ConsultDesk.Web.Consults;
using ConsultDesk.Web.HandingOver;
using ConsultDesk.Web.Intake;
using ConsultDesk.Web.Letters;
using ConsultDesk.Web.Plans;
using ConsultDesk.Web.Prices;
using ConsultDesk.Web.Shell;
using ConsultDesk.Web.Workspace;

try
{
    var builder = WebApplication.CreateBuilder(args);
    // Without this a start from source in Production answers every asset with 200 and an empty body.
    builder.WebHost.UseStaticWebAssets();
    // Where containers hand over secrets: one file per setting, named like its environment variable.
    builder.Configuration.AddKeyPerFile("/run/secrets", optional: true);
    var data = DataSettings.Read(builder.Configuration, builder.Environment);
    builder.AddShell();
    builder.AddBackup(data);
    builder.AddAccount();
    builder.Services.AddRecords(data.Kind, data.Connection);
    builder.Services.AddWorkspace();
    builder.Services.AddPlans();
    builder.Services.AddIntake();
    builder.AddLetters();
    builder.Services.AddHandingOver();

    await using var app = builder.Build();
    app.UseShell();
    app.MapShell();
    app.MapAccount();
    app.MapPlans();
    app.MapIntake();
    app.MapConsultancy();
    app.MapPrices();
    app.MapInvitations();
    app.MapHandingOver();
    app.MapAfterBuild();

    if (!await app.BackUpIfAskedAsync())
    {
        await app.RunDeskAsync(data);
    }

    return 0;
}
catch (StartRefusedException refused)
{
    await Console.Error.WriteLineAsync(refused.Message);
    return 1;
}

/// <summary>Named so that the tests can start the app.</summary>
public partial class Program;
