namespace ConsultDesk.Web.Letters;

/// <summary>Letters by e-mail, when a mail server is set up.</summary>
internal static class LettersRegistration
{
    /// <exception cref="Shell.StartRefusedException">The settings of the mail server cannot be used.</exception>
    public static void AddLetters(this WebApplicationBuilder builder)
    {
        if (MailSettings.Read(builder.Configuration) is { } settings)
        {
            builder.Services.AddSingleton(settings);
            builder.Services.AddSingleton<MailServer>();
        }

        builder.Services.AddSingleton<Correspondence>();
    }
}
